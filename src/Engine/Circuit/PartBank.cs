using Consort.Engine.Design;

namespace Consort.Engine.Circuit;

/// <summary>
/// All parts of one kind in flat arrays. A bank takes its unknowns and slots in its constructor, turns parameters into
/// working values in <see cref="Prepare"/>, and adds its equations in <see cref="StampConstant"/> (what never changes
/// while the circuit runs) and <see cref="Stamp"/> (the rest). One thread uses a bank at a time: a circuit is compiled
/// once per thread.
/// </summary>
public abstract class PartBank
{
    private readonly Dictionary<string, double[]> numbers = [];

    /// <summary>Reads every number of the parts into an array by parameter word; 0 where a part has no such word.</summary>
    protected PartBank(IReadOnlyList<Part> parts)
    {
        Parts = parts;
        if (parts.Count == 0)
            return;
        // Members of matched pairs and sources given by formula have other words than their neighbours in the bank.
        foreach (string word in parts.SelectMany(part => part.Numbers.Keys).Distinct())
            numbers[word] = [.. parts.Select(part => part.Numbers.GetValueOrDefault(word))];
    }

    /// <summary>The parts, in the order of all arrays.</summary>
    public IReadOnlyList<Part> Parts { get; }

    /// <summary>How many parts.</summary>
    public int Count => Parts.Count;

    /// <summary>One parameter of all parts, SI units, as built at its reference temperature. Builds and sensitivities
    /// write here and then call <see cref="Prepare"/>.</summary>
    public double[] Numbers(string word) => numbers[word];

    /// <summary>The parameter words.</summary>
    public IReadOnlyCollection<string> Words => numbers.Keys;

    /// <summary>Turns parameters into working values at a temperature, for parts first to end (exclusive).</summary>
    public virtual void Prepare(double kelvin, int first, int end) { }

    /// <summary>Adds the constant part of G and C. Its share of f is G·x and of q is C·x, which the circuit adds for all
    /// banks at once.</summary>
    public virtual void StampConstant(Pass pass, int first, int end) { }

    /// <summary>Adds f and q (without the constant part's share) and the varying part of G and C.</summary>
    public virtual void Stamp(Pass pass, int first, int end) { }

    /// <summary>True when, at one state, f or q of these parts changes with the time just then.</summary>
    /// <param name="time">s.</param>
    public virtual bool HangsOnTime(double time) => this is ISwitching switching && switching.Moves(time);

    /// <summary>Forgets the junction voltages of the last pass (a new, unrelated solve begins).</summary>
    public virtual void Forget() { }

    /// <summary>Adds the noise sources of one part at the state of the pass.</summary>
    public virtual void Noise(Pass pass, int part, NoiseList into) { }
}

/// <summary>A bank of parts with junctions, whose current grows e-fold in some 26 mV.</summary>
public interface IJunctions
{
    /// <summary>True when one stores no charge: nothing then says how far a step without Newton has left its law.</summary>
    bool HasBare { get; }
}

/// <summary>
/// A bank whose parts change state at moments: comparators, switches. While a transient runs, the watch functions are
/// followed; when one rises through zero the run is brought to that moment and <see cref="Cross"/> is called. What
/// follows is a ramp that starts from the present value, so that f never jumps.
/// </summary>
public interface ISwitching
{
    /// <summary>Number of watch functions.</summary>
    int Watches { get; }

    /// <summary>The unknowns that the watch functions read: their errors become errors of the moments.</summary>
    IEnumerable<int> Reads { get; }

    /// <summary>A watch function's value, V: negative while waiting, zero at the moment of the event.</summary>
    double Watch(int watch, double[] x, double time);

    /// <summary>The event happened. The bank latches it.</summary>
    void Cross(int watch, double time);

    /// <summary>At rest: takes the state of one watch that fits the voltages; false when nothing had to change.</summary>
    bool Settle(int watch, double[] x);

    /// <summary>The same for all watches.</summary>
    bool Settle(double[] x)
    {
        bool changes = false;
        for (int watch = 0; watch < Watches; watch++)
            changes |= Settle(watch, x);
        return changes;
    }

    /// <summary>The part that a watch belongs to.</summary>
    int PartOf(int watch);

    /// <summary>The moment given to the <see cref="Cross"/> that started the ramp which the part's output is on or was
    /// last on at a time; NaN when there was none. Sensitivities need it: when that moment moves, the ramp moves along.</summary>
    double CauseOf(int part, double time);

    /// <summary>True while the part's output is on a ramp.</summary>
    bool Moves(int part, double time);

    /// <summary>True while any part's output is on a ramp.</summary>
    bool Moves(double time)
    {
        for (int watch = 0; watch < Watches; watch++)
            if (Moves(PartOf(watch), time))
                return true;
        return false;
    }

    /// <summary>The cause of the part's ramp that begins or ends at a time, and which of the two; null when none does.</summary>
    (double Cause, bool IsEnd)? CornerAt(int part, double time);

    /// <summary>Copies the latched state out, to come back to it after a rejected step.</summary>
    double[] Save();

    /// <summary>Puts a latched state back.</summary>
    void Restore(double[] state);
}

/// <summary>A bank whose equations have corners in time (source steps, ramps of latched events).</summary>
public interface ICornered
{
    /// <summary>The first corner strictly after a time, s; infinity when there is none.</summary>
    double NextCorner(double after);
}

/// <summary>A bank of independent sources that can drive a small-signal analysis.</summary>
public interface IExciting
{
    /// <summary>Adds the sources' small-signal amplitudes to the right-hand side b of (G + jωC)·x = b.</summary>
    void Excite(double[] rightHandSide);
}

/// <summary>Noise sources gathered for an analysis: each a current into one row and out of another.</summary>
public sealed class NoiseList
{
    /// <summary>The sources so far.</summary>
    public List<NoiseSource> Sources { get; } = [];

    /// <summary>A noise current from row a to row b.</summary>
    /// <param name="name">Part and mechanism, as <c>R3 thermal</c>.</param>
    /// <param name="a">Row that it leaves.</param>
    /// <param name="b">Row that it enters.</param>
    /// <param name="white">White part of the density, A²/Hz.</param>
    /// <param name="corner">Frequency below which it grows as 1/f, Hz; 0 for none.</param>
    public void Add(string name, int a, int b, double white, double corner = 0) =>
        Sources.Add(new(name, a, b, white, corner));
}

/// <summary>One noise source.</summary>
public readonly record struct NoiseSource(string Name, int From, int To, double White, double Corner);
