using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Playing;

/// <summary>Beats of two oscillators at one control voltage.</summary>
/// <param name="Volts">Control voltage, V.</param>
/// <param name="Hertz">Beats a second; positive: the second is the higher one.</param>
/// <param name="IdealHertz">What their intervals alone would give.</param>
/// <param name="AreHeld">True when both keep in step, by sync: they do not beat.</param>
public readonly record struct BeatPoint(double Volts, double Hertz, double IdealHertz, bool AreHeld);

/// <summary>How fast two oscillators beat at each control voltage, from their pitch laws and from what sync does to them.</summary>
/// <param name="First">The one.</param>
/// <param name="Second">The other.</param>
/// <param name="Points">At rising control voltages.</param>
public sealed record BeatCurve(string First, string Second, ImmutableArray<BeatPoint> Points)
{
    private const int PointsPerOctave = 12;

    /// <summary>True when they keep in step wherever they were looked at.</summary>
    public bool AreHeld => Points.All(point => point.AreHeld);

    /// <summary>Beats of two at one voltage.</summary>
    public static BeatPoint At(HeardOscillator one, HeardOscillator other, double volts) => Of(one.At(volts), other.At(volts), volts, other.IdealHertz(volts) - one.IdealHertz(volts));

    private static BeatPoint Of(HeardPitch first, HeardPitch second, double volts, double ideal)
    {
        bool held = first.KeepsStepWith(second);
        return new(volts, held ? 0 : second.Hertz - first.Hertz, ideal, held);
    }

    /// <summary>Every pair of oscillators in a mixer, over the voltages at which the first one's law was read.</summary>
    public static ImmutableArray<BeatCurve> Of(ImmutableArray<SoundLaw> laws, ImmutableArray<Strip> strips)
    {
        HeardOscillator[] heard = [.. strips.DistinctBy(strip => strip.Oscillator).Select(strip => HeardOscillator.Of(laws, strips, strip))];
        double[] volts = Notes(laws[0]);
        HeardPitch[][] pitches = [.. heard.Select(one => volts.Select(one.At).ToArray())]; // once each: one that is pulled is watched for long
        ImmutableArray<BeatCurve>.Builder curves = ImmutableArray.CreateBuilder<BeatCurve>();
        for (int i = 0; i < heard.Length; i++)
            for (int j = i + 1; j < heard.Length; j++)
                curves.Add(new(heard[i].Name, heard[j].Name, [.. volts.Select((at, n) => Of(pitches[i][n], pitches[j][n], at, heard[j].IdealHertz(at) - heard[i].IdealHertz(at)))]));
        return curves.ToImmutable();
    }

    private static double[] Notes(SoundLaw law)
    {
        (double low, double high) = law.Pitch.Points.IsEmpty ? (0, 4) : (law.Pitch.Points[0].Volts, law.Pitch.Points[^1].Volts);
        double step = law.Oscillator.Spec.VoltsPerOctave / PointsPerOctave;
        return [.. Enumerable.Range(0, (int)Math.Round((high - low) / step) + 1).Select(i => low + i * step)];
    }
}
