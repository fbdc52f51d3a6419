using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>
/// Finds the charge law of one oscillator's core. Slopes by all parameters are read along the orbit at four notes of the
/// bench's temperature; at the other temperatures what they differ by is read at two. The few things that move the law far
/// are really moved, and the core and its slopes read again at two notes.
/// </summary>
/// <param name="voice">In its design state.</param>
/// <param name="draws">What differs between builds.</param>
/// <param name="trimmers">The voice's.</param>
/// <param name="oscillator">Which one.</param>
/// <param name="readings">Its charge law in the design.</param>
/// <param name="known">Notes at which all slopes are read.</param>
/// <param name="reach">How much each drawn parameter moves its timing current, cents.</param>
internal sealed class CoreSurvey(
    PlayedVoice voice,
    DrawPlan draws,
    PartPlace[] trimmers,
    Oscillator oscillator,
    CoreReadings readings,
    int[] known,
    double[] reach
)
{
    private const double Matters = 1e-3; // cents
    private const double Spurious = 0.01; // of what the current does: below it a difference of two slopes says nothing
    /// <summary>How far a trimmer is taken to be turned, share of its travel.</summary>
    public const double TrimmerMove = 0.3;

    private readonly int[] ends = known.Length > 2 ? [known[0], known[^1]] : known;
    private readonly double[] widths = [.. draws.Parameters.Select(PhiWidth), .. trimmers.Select(_ => TrimmerMove)];

    // Its own parts, and what reaches it from elsewhere.
    private int[] Wanted { get; } =
    [
        .. Enumerable.Range(0, draws.Parameters.Length).Where(p => reach[p] >= Matters || draws.Parameters[p].Part.Name.StartsWith(oscillator.Name + "/", StringComparison.Ordinal)),
        .. Enumerable.Range(draws.Parameters.Length, trimmers.Length),
    ];

    /// <summary>Half of a parameter's spread as its φ.</summary>
    public static double PhiWidth(DrawnParameter drawn) =>
        drawn.Move == MoveKind.Added ? drawn.HalfWidth : drawn.Nominal == 0 ? 0 : drawn.HalfWidth / Math.Abs(drawn.Nominal);

    /// <summary>Surveys.</summary>
    public (CoreFindings? Findings, SolveFailure? Failure) Run()
    {
        int temperatures = readings.Kelvins.Length;
        double[][] currents = [.. Enumerable.Range(0, temperatures).Select(k => known.Select(n => readings.Currents[k][n]).ToArray())];
        double[][][] slopes = new double[temperatures][][];
        bool[] acts = new bool[widths.Length];
        for (int k = 0; k < temperatures; k++)
        {
            (CoreReading[]? read, SolveFailure? failure) = ReadAt(k, k == 0 ? known : ends, _ => { }, n => readings.Tilt(k, n).First);
            if (read is null)
                return (null, failure);
            foreach (CoreReading reading in read)
                Mark(acts, reading);
            slopes[k] = k == 0 ? [.. read.Select(r => r.Core)] : Shifted(slopes[0], currents[0], currents[k], read);
        }
        return new CoreMovers(voice, draws, trimmers, oscillator, readings, known, ReadAt).Find(new(currents, slopes, acts, [], []), widths);
    }

    private (CoreReading[]? Readings, SolveFailure? Failure) ReadAt(int k, int[] notes, Action<Circuit.Circuit> move, Func<int, double> tilt)
    {
        PlayedVoice twin = voice.Twin();
        twin.Circuit.SetTemperature(readings.Kelvins[k]);
        move(twin.Circuit);
        SoloOscillator solo = new(twin, oscillator);
        if (solo.Prepare(twin.MiddleVolts) is { } unready)
            return (null, unready);
        CoreSlopes slopes = new(twin, solo, draws, trimmers, Wanted);
        List<CoreReading> read = [];
        foreach (int n in notes)
        {
            (CoreReading? reading, SolveFailure? failure) = slopes.At(readings.Volts[n], tilt(n) / Cents.PerNeper);
            if (reading is null)
                return (null, failure);
            read.Add(reading);
        }
        return ([.. read], null);
    }

    private void Mark(bool[] acts, CoreReading reading)
    {
        for (int p = 0; p < acts.Length; p++)
            acts[p] |= Math.Abs(reading.Core[p]) * widths[p] >= Matters && Math.Abs(reading.Core[p]) >= Spurious * Math.Abs(reading.Rest[p]);
    }

    // The slopes of another state at all known currents: those of the design, and what the readings differ by.
    private static double[][] Shifted(double[][] design, double[] designCurrents, double[] currents, CoreReading[] read)
    {
        double[][] differences = Differences(design, designCurrents, read);
        CurrentWeights between = new([.. read.Select(r => r.Amperes)]);
        CurrentWeights over = new(designCurrents);
        return [.. currents.Select(current => Rows.Sum(Rows.Mixed(design, over.At(current)), Rows.Mixed(differences, between.At(current))))];
    }

    /// <summary>What readings differ by from the slopes of the design at their currents.</summary>
    public static double[][] Differences(double[][] design, double[] currents, CoreReading[] read)
    {
        CurrentWeights over = new(currents);
        return [.. read.Select(r => Rows.Sum(r.Core, Rows.Mixed(design, over.At(r.Amperes)), -1))];
    }
}
