using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>What was found of one oscillator's core, with the names by which a like one finds its own parts in it: another of
/// the same voice, or of a voice of the same modules that is wired otherwise.</summary>
internal sealed class KnownCore
{
    private readonly string source;
    private readonly DrawPlan draws;
    private readonly CoreReadings readings;
    private readonly double[] positions; // of the trimmers
    private readonly CurrentWeights over;
    private readonly Dictionary<(string Part, string Word), int> phis = [];

    /// <summary>Names it.</summary>
    /// <param name="source">The oscillator that was surveyed.</param>
    /// <param name="draws">What differs between builds of its voice.</param>
    /// <param name="trimmers">Its voice's.</param>
    /// <param name="readings">Its charge law in the design.</param>
    /// <param name="findings">What was found.</param>
    public KnownCore(string source, DrawPlan draws, PartPlace[] trimmers, CoreReadings readings, CoreFindings findings)
    {
        (this.source, this.draws, this.readings, Findings) = (source, draws, readings, findings);
        positions = [.. trimmers.Select(trimmer => trimmer.Bank.Numbers("position")[trimmer.Index])];
        over = new(findings.Currents[0]);
        foreach ((string, string) name in Names(draws, trimmers))
            phis[name] = phis.Count;
    }

    /// <summary>What was found, by φ of the surveyed voice.</summary>
    public CoreFindings Findings { get; }

    /// <summary>True when nothing but parts of its own module acts in it.</summary>
    public bool IsItsModulesOwn => phis.All(pair => !Findings.Acts[pair.Value] || pair.Key.Part.StartsWith(source + "/", StringComparison.Ordinal));

    /// <summary>For every φ of an oscillator's voice the one that plays its part in the survey; −1 for none.</summary>
    /// <param name="oscillator">Which oscillator.</param>
    /// <param name="itsDraws">Of its voice.</param>
    /// <param name="trimmers">Its voice's.</param>
    public int[] Phis(string oscillator, DrawPlan itsDraws, PartPlace[] trimmers) =>
        [.. Names(itsDraws, trimmers).Select(name => Phi(name, oscillator, ReferenceEquals(itsDraws, draws)))];

    private int Phi((string Part, string Word) name, string oscillator, bool isSameVoice)
    {
        if (isSameVoice && oscillator == source)
            return phis[name];
        if (name.Part.StartsWith(oscillator + "/", StringComparison.Ordinal))
            return phis.GetValueOrDefault((source + name.Part[oscillator.Length..], name.Word), -1);
        // Parts outside: in another voice a like name may mean another thing.
        bool isOwnOfSource = name.Part.StartsWith(source + "/", StringComparison.Ordinal);
        return isSameVoice && !isOwnOfSource ? phis[name] : -1;
    }

    /// <summary>U₀ of the design at the bench's temperature with its trimmers elsewhere, as far as slopes tell, cents.</summary>
    /// <param name="volts">A note.</param>
    /// <param name="current">Timing current there, A.</param>
    /// <param name="stand">Where trimmers stand, by φ.</param>
    /// <returns>No number where it was not read at that note.</returns>
    public double Charge(double volts, double current, IEnumerable<(int Phi, double Position)> stand)
    {
        int n = Array.IndexOf(readings.Volts, volts);
        if (n < 0)
            return double.NaN;
        double[] slopes = Rows.Mixed(Findings.Slopes[0], over.At(current));
        return readings.ChargeAt(0, n, current) + stand.Sum(at => slopes[at.Phi] * (at.Position - positions[at.Phi - draws.Parameters.Length]));
    }

    private static IEnumerable<(string Part, string Word)> Names(DrawPlan draws, PartPlace[] trimmers) =>
        draws.Parameters.Select(drawn => (drawn.Part.Name, drawn.Word))
            .Concat(trimmers.Select(trimmer => (trimmer.Bank.Parts[trimmer.Index].Name, "position")));
}
