using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Sound.Laws;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Response;

/// <summary>Reads the shapes of an oscillator's outputs that are no pulses.</summary>
/// <param name="driven">Looks at them, in that order.</param>
/// <param name="oscillator">Its member.</param>
/// <param name="outputs">Their labels.</param>
/// <param name="kelvins">Temperatures, the first the one at which it stands.</param>
internal sealed class WaveShapes(DrivenOscillator driven, Member oscillator, ImmutableArray<string> outputs, ImmutableArray<double> kelvins)
{
    private const int Harmonics = 20;
    private const int Shown = 10;
    private static readonly ImmutableArray<double> Positions = [0, 0.25, 0.5, 0.75, 1];

    /// <summary>A sheet for each output.</summary>
    public (ImmutableArray<WaveSheet> Sheets, SolveFailure? Failure) Read()
    {
        List<HarmonicReading[]> warm = [];
        List<double[]> swings = [];
        foreach (double kelvin in kelvins)
        {
            driven.BringTo(kelvin);
            if (Take(warm, swings) is { } failure)
                return ([], failure);
        }
        driven.BringTo(kelvins[0]);
        List<(string Trimmer, List<HarmonicReading[]> Read, List<double[]> Swings)> turned = [];
        foreach (TrimStep step in oscillator.Module.Trims.Where(step => step.Purpose == TrimPurpose.Other))
        {
            (List<HarmonicReading[]> read, List<double[]> swing) = ([], []);
            double stands = driven.Get($"{oscillator.Name}/{step.Trimmer}", "position");
            foreach (double position in Positions)
            {
                driven.Set($"{oscillator.Name}/{step.Trimmer}", "position", position);
                if (Take(read, swing) is { } failure)
                    return ([], failure);
            }
            driven.Set($"{oscillator.Name}/{step.Trimmer}", "position", stands);
            turned.Add((step.Trimmer, read, swing));
        }
        return ([.. outputs.Select((output, o) => Sheet(output, o))], null);

        WaveSheet Sheet(string output, int o)
        {
            IdealWave nearest = Nearest(warm[0][o]);
            WavePoint Point(double at, HarmonicReading reading, double swing) => Of(at, reading, nearest, swing);
            ImmutableArray<WavePoint> temperatures = [.. kelvins.Select((kelvin, i) => Point(kelvin, warm[i][o], swings[i][o]))];
            WaveTrim[] trims = [.. turned.Select(turn => new WaveTrim(turn.Trimmer, [.. Positions.Select((position, i) => Point(position, turn.Read[i][o], turn.Swings[i][o]))]))];
            return new(output, nearest, temperatures, [.. trims.Where(Moves)], [.. trims.Where(trim => !Moves(trim)).Select(trim => trim.Trimmer)]);
        }
    }

    private static bool Moves(WaveTrim trim)
    {
        (double least, double most) = (trim.Points.Min(point => point.Departure), trim.Points.Max(point => point.Departure));
        return most - least > 1e-4 && most > 1.12 * least;
    }

    private SolveFailure? Take(List<HarmonicReading[]> read, List<double[]> swings)
    {
        (SteadyPeriod? period, SolveFailure? failure) = driven.Read();
        if (period is null)
            return failure;
        if (period.Times.Length < 2)
            return new("it does not oscillate", oscillator.Name, 0, 0);
        read.Add([.. period.Volts.Select(volts => HarmonicReading.OfPeriod(period.Times, volts, Harmonics))]);
        swings.Add([.. period.Volts.Select(volts => volts.Max() - volts.Min())]);
        return null;
    }

    /// <summary>A shape against an ideal wave.</summary>
    public static WavePoint Of(double at, HarmonicReading reading, IdealWave ideal, double swing) =>
        new(at, reading.Distortion, Departure(reading, ideal), [.. Enumerable.Range(2, Shown - 1).Select(reading.Db)], swing);

    /// <summary>The ideal wave from which a shape departs least.</summary>
    public static IdealWave Nearest(HarmonicReading reading) => Enum.GetValues<IdealWave>().MinBy(ideal => Departure(reading, ideal));

    private static double Departure(HarmonicReading reading, IdealWave ideal) =>
        HarmonicReading.Combine(Enumerable.Range(2, reading.Lines.Length - 1).Select(k => reading.Amplitude(k) / reading.Amplitude(1) - Ideal(ideal, k)));

    // Amplitude of the k-th harmonic against the fundamental (Bracewell, from memory).
    private static double Ideal(IdealWave ideal, int k) =>
        ideal switch
        {
            IdealWave.Saw => 1.0 / k,
            IdealWave.Triangle => k % 2 == 1 ? 1.0 / (k * k) : 0,
            _ => 0,
        };
}
