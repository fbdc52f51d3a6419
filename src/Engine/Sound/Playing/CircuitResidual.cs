using System.Collections.Immutable;
using System.Numerics;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Spectra;
using Consort.Engine.Sound.Sync;

namespace Consort.Engine.Sound.Playing;

/// <summary>
/// What is left when a rendered wave is taken off the wave of the whole circuit, both without what stands above a
/// frequency: the rendering starts from one period of one oscillator by itself, the circuit runs with all of them.
/// </summary>
public static class CircuitResidual
{
    /// <summary>Up to where both are compared, Hz.</summary>
    public const double Highest = 20_000;

    private const int Rate = 48_000;
    private const int Settling = 9_600; // samples
    private const int Compared = 48_000;
    private const int SettlingPeriods = 6;
    private const int Delays = 4096; // that are tried before the best of them is made better

    // One that is pulled softly comes nearer by a quarter or so with each period.
    private const int SettlingSynced = 40; // periods

    /// <summary>Root mean square of the difference against the circuit's, dB. One that is held by the lead is compared over
    /// the lead's period.</summary>
    /// <param name="amongMany">As one note of a piece of many, of which none is read itself.</param>
    public static (double Db, SolveFailure? Failure) Read(PlayedVoice voice, string oscillator, string output, double key, bool amongMany = false)
    {
        double volts = LawReader.VoltsOf(voice.Oscillators[0], key);
        double settling = Math.Max((double)Settling / Rate, SettlingSynced / voice.Oscillators[0].IdealHertz(volts));
        double end = settling + (double)Compared / Rate + 0.3;
        SoundSettings settings = new(new([new(0, key), new(end, null)], end), [new(oscillator, output, 1, -1, 0)], [], Rate, Attack: 1e-3);
        (ImmutableArray<SoundLaw> laws, SolveFailure? failure) = new LawReader(voice, settings, 1) { MostExact = amongMany ? 0 : LawReader.FewNotes }.Read(null, CancellationToken.None);
        if (failure is not null)
            return (double.NaN, failure);
        SoundLaw law = laws.First(one => one.Oscillator.Name == oscillator);
        (double lead, double own) = (laws[0].Pitch.Hertz(volts), law.Pitch.Hertz(volts));
        bool held = law.Sync is { } sync && Holding.Of(sync, lead, own).IsHeld;
        double hertz = held ? lead : own;
        (float[] left, _) = new Renderer(settings, laws, []).Run(null, CancellationToken.None);
        double[] sound = [.. left.Skip((int)(settling * Rate)).Take(Compared).Select(sample => (double)sample)];
        HarmonicReading heard = HarmonicReading.OfSamples(sound, Rate, hertz, (int)(Highest / hertz), Window.Deep);
        (Complex[] circuit, SolveFailure? broken) = Circuit(voice, oscillator, output, volts, held, heard.Lines.Length);
        Complex[] coupled = [.. circuit.Select((line, i) => line * SoundSettings.Coupling((i + 1) * hertz, Rate))];
        return broken is null ? (Decibels.Of(Difference(coupled, heard.Lines)), null) : (double.NaN, broken);
    }

    private static (Complex[] Lines, SolveFailure? Failure) Circuit(PlayedVoice voice, string oscillator, string output, double volts, bool held, int count)
    {
        PlayedVoice whole = voice.Twin(Accuracy.Default);
        (ImmutableArray<Channel> channels, _) = Channel.Find(whole.Voice, whole.Circuit, [$"{oscillator}/{output}"]);
        int place = held ? 0 : whole.Oscillators.ToList().FindIndex(one => one.Name == oscillator);
        (SteadyPeriod? period, SolveFailure? failure) = PeriodRecorder.OfWhole(whole, place, volts, channels, held ? SettlingSynced : SettlingPeriods);
        return period is null ? ([], failure) : ([.. HarmonicReading.OfPeriod(period.Times, period.Volts[0], count).Lines], null);
    }

    /// <summary>Of two waves given by their harmonics, the second moved in time so that they fit best: root of the sum of
    /// squares of their difference against the first's.</summary>
    public static double Difference(IReadOnlyList<Complex> one, IReadOnlyList<Complex> other)
    {
        // The best of a grid, since a weak fundamental tells no delay; from there by Newton on the slope of the whole sum.
        double delay = Enumerable.Range(0, Delays).Select(i => 2 * Math.PI * i / Delays).MaxBy(tried => Alike(one, other, tried));
        for (int pass = 0; pass < 20; pass++)
        {
            (double slope, double curve) = (0, 0);
            for (int k = 1; k <= one.Count; k++)
            {
                Complex product = Complex.Conjugate(one[k - 1]) * other[k - 1] * Complex.FromPolarCoordinates(1, k * delay);
                slope += k * product.Imaginary;
                curve += (double)k * k * product.Real;
            }
            if (!(curve > 0))
                break;
            delay -= slope / curve;
        }
        double left = 0;
        for (int k = 1; k <= one.Count; k++)
            left += Square(one[k - 1] - other[k - 1] * Complex.FromPolarCoordinates(1, k * delay));
        return Math.Sqrt(left / one.Sum(Square));
    }

    private static double Alike(IReadOnlyList<Complex> one, IReadOnlyList<Complex> other, double delay)
    {
        (Complex turn, Complex each, double sum) = (1, Complex.FromPolarCoordinates(1, delay), 0);
        for (int k = 0; k < one.Count; k++)
            sum += (Complex.Conjugate(one[k]) * other[k] * (turn *= each)).Real;
        return sum;
    }

    private static double Square(Complex value) => value.Real * value.Real + value.Imaginary * value.Imaginary;
}
