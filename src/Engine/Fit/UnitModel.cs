using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;
using Consort.Engine.Pitch.Builds.Trimming;
using Consort.Engine.Quantities;

namespace Consort.Engine.Fit;

/// <summary>
/// What the design says of one unit before it is read: pitch as a function of the departures of its parts and of where its
/// trimmers stand, at every octave and at the temperatures of interest. Parts of a lead that it hangs on stay as in the design.
/// Threads share it; each takes a <see cref="UnitReader"/>.
/// </summary>
public sealed class UnitModel
{
    private UnitModel(UnitPlace place, VoiceBuilds builds)
    {
        (Place, Builds) = (place, builds);
        Oscillator = Array.FindIndex([.. builds.Voice.Oscillators], o => o.Name == place.Member.Name);
        Sheet = builds.Sheets[Oscillator];
        Volts = [.. builds.Volts];
        Kelvins = [.. builds.Kelvins];
        Limits limits = builds.Voice.Voice.Limits;
        Asked = [.. Enumerable.Range(0, Volts.Length).Where(n => limits.Asks(Volts[n], place.Law.VoltsPerOctave))];
        Prior = UnitPrior.Of(builds, place.Member.Name);
    }

    /// <summary>The unit and what its pitch should be.</summary>
    public UnitPlace Place { get; }

    /// <summary>Control voltages at which it is known, V.</summary>
    public ImmutableArray<double> Volts { get; }

    /// <summary>Temperatures at which it is known, K; the bench's first.</summary>
    public ImmutableArray<double> Kelvins { get; }

    /// <summary>Places in <see cref="Volts"/> of the octaves that the voice's limits ask.</summary>
    public ImmutableArray<int> Asked { get; }

    /// <summary>What the maker asks.</summary>
    public Limits Limits => Builds.Voice.Voice.Limits;

    /// <summary>Its trims, in the order of the module's file.</summary>
    public ImmutableArray<TrimStep> Trims => [.. Sheet.Steps];

    internal VoiceBuilds Builds { get; }

    internal int Oscillator { get; }

    internal TrimSheet Sheet { get; }

    internal UnitPrior Prior { get; }

    /// <summary>Makes it ready: the unit's voice is trimmed as a design, and its laws are read from the circuit.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="stock">The shelf: how its parts spread.</param>
    /// <param name="place">Which unit.</param>
    /// <param name="kelvins">Temperatures of interest, K; the bench's first.</param>
    /// <param name="threads">How many may work; the result does not depend on it.</param>
    public static (UnitModel? Model, SolveFailure? Failure) Find(Voice voice, Stock stock, UnitPlace place, IReadOnlyList<double> kelvins, int threads)
    {
        Voice alone = UnitAlone.Of(voice, place.Member);
        (PlayedVoice? played, _, SolveFailure? untrimmed) = ReadyVoice.Trimmed(alone, threads);
        if (played is null)
            return (null, untrimmed);
        DesignReadings readings = new(played, kelvins, Prover.Notes(alone).Concat(Prover.BudgetNotes(alone)));
        (VoiceBuilds? builds, SolveFailure? failure) = VoiceBuilds.Find(played, stock, readings, threads);
        return builds is null ? (null, failure) : (new(place, builds), null);
    }

    /// <summary>The trimmer of that designator as its place in the sheet; −1 when it sets no pitch.</summary>
    public int TrimmerAt(string designator) => Array.FindIndex(Sheet.Steps, step => step.Trimmer == designator);

    /// <summary>The temperature nearest to one, as a place in <see cref="Kelvins"/>.</summary>
    public int TemperatureAt(double kelvin)
    {
        int nearest = 0;
        for (int k = 1; k < Kelvins.Length; k++)
            if (Math.Abs(Kelvins[k] - kelvin) < Math.Abs(Kelvins[nearest] - kelvin))
                nearest = k;
        return nearest;
    }

    /// <summary>Where a pitch error at a control voltage lies between those at the known notes: weights of at most four of them
    /// (Lagrange's cubic through the nearest four; a straight line past the ends).</summary>
    internal (int First, double[] Weights) Between(double volts)
    {
        int at = 0;
        while (at < Volts.Length && Volts[at] < volts - 1e-6)
            at++;
        if (at < Volts.Length && Math.Abs(Volts[at] - volts) <= 1e-6)
            return (at, [1]);
        bool isInside = at > 0 && at < Volts.Length;
        int points = isInside ? Math.Min(4, Volts.Length) : Math.Min(2, Volts.Length);
        int first = Math.Clamp(at - points / 2, 0, Volts.Length - points);
        double[] weights = new double[points];
        for (int i = 0; i < points; i++)
        {
            weights[i] = 1;
            for (int j = 0; j < points; j++)
                if (j != i)
                    weights[i] *= (volts - Volts[first + j]) / (Volts[first + i] - Volts[first + j]);
        }
        return (first, weights);
    }
}
