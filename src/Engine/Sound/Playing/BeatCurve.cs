using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Playing;

/// <summary>How fast two oscillators beat at each control voltage, from their pitch laws.</summary>
/// <param name="First">The one.</param>
/// <param name="Second">The other.</param>
/// <param name="Points">Control voltage, beats a second (positive: the second is the higher one), and what their intervals
/// alone would give.</param>
public sealed record BeatCurve(string First, string Second, ImmutableArray<(double Volts, double Hertz, double IdealHertz)> Points)
{
    private const int PointsPerOctave = 12;

    /// <summary>Beats a second at one voltage.</summary>
    public static double At(SoundLaw first, double firstMoved, SoundLaw second, double secondMoved, double volts) =>
        second.Pitch.Hertz(volts, secondMoved) - first.Pitch.Hertz(volts, firstMoved);

    /// <summary>Every pair of oscillators in a mixer, over the voltages at which the first one's law was read.</summary>
    public static ImmutableArray<BeatCurve> Of(ImmutableArray<SoundLaw> laws, ImmutableArray<Strip> strips)
    {
        (SoundLaw Law, double Moved)[] heard =
        [
            .. strips.DistinctBy(strip => strip.Oscillator).Select(strip => (laws.First(law => law.Oscillator.Name == strip.Oscillator), strip.MovedCents)),
        ];
        double[] volts = Notes(laws[0]);
        ImmutableArray<BeatCurve>.Builder curves = ImmutableArray.CreateBuilder<BeatCurve>();
        for (int i = 0; i < heard.Length; i++)
            for (int j = i + 1; j < heard.Length; j++)
                curves.Add(new(heard[i].Law.Oscillator.Name, heard[j].Law.Oscillator.Name, [.. volts.Select(at => Point(heard[i], heard[j], at))]));
        return curves.ToImmutable();
    }

    private static (double, double, double) Point((SoundLaw Law, double Moved) one, (SoundLaw Law, double Moved) other, double volts) =>
        (volts, At(one.Law, one.Moved, other.Law, other.Moved, volts), Ideal(other, volts) - Ideal(one, volts));

    private static double Ideal((SoundLaw Law, double Moved) heard, double volts) =>
        heard.Law.Oscillator.IdealHertz(volts + heard.Moved / 1200 * heard.Law.Oscillator.Spec.VoltsPerOctave);

    private static double[] Notes(SoundLaw law)
    {
        (double low, double high) = law.Pitch.Points.IsEmpty ? (0, 4) : (law.Pitch.Points[0].Volts, law.Pitch.Points[^1].Volts);
        double step = law.Oscillator.Spec.VoltsPerOctave / PointsPerOctave;
        return [.. Enumerable.Range(0, (int)Math.Round((high - low) / step) + 1).Select(i => low + i * step)];
    }
}
