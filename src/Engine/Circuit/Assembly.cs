using Consort.Engine.Design;

namespace Consort.Engine.Circuit;

/// <summary>What an unknown is, for tolerances and messages.</summary>
public enum UnknownKind
{
    /// <summary>A net's or inner node's voltage, V.</summary>
    Voltage,
    /// <summary>A branch current, A.</summary>
    Current,
}

/// <summary>One unknown of the system.</summary>
public sealed record Unknown(string Name, UnknownKind Kind, bool IsInner);

/// <summary>Hands out unknowns and matrix slots while the banks of a circuit are built.</summary>
public sealed class Assembly
{
    private readonly Dictionary<string, int> nets = new() { [CircuitDesign.Ground] = 0 };
    private readonly Dictionary<(int Row, int Column), int> slots = [];
    private readonly List<int> rows = [0];
    private readonly List<int> columns = [0];
    private readonly List<Unknown> unknowns = [new(CircuitDesign.Ground, UnknownKind.Voltage, false)];

    /// <summary>All unknowns, ground first.</summary>
    public IReadOnlyList<Unknown> Unknowns => unknowns;

    /// <summary>Row of each slot; slot 0 is the one for ground.</summary>
    public IReadOnlyList<int> Rows => rows;

    /// <summary>Column of each slot.</summary>
    public IReadOnlyList<int> Columns => columns;

    /// <summary>Net name to unknown.</summary>
    public IReadOnlyDictionary<string, int> Nets => nets;

    /// <summary>The unknown of a net; a new one when the name is new; 0 for ground.</summary>
    public int Net(string name)
    {
        if (nets.TryGetValue(name, out int index))
            return index;
        unknowns.Add(new(name, UnknownKind.Voltage, false));
        return nets[name] = unknowns.Count - 1;
    }

    /// <summary>The unknown of a part's terminal; ground when the terminal is open.</summary>
    public int Net(Part part, string terminal) => part.NetAt(terminal) is { } net ? Net(net) : 0;

    /// <summary>A new unknown inside a part: an inner node's voltage or a branch's current.</summary>
    public int Inner(Part part, string what, UnknownKind kind)
    {
        unknowns.Add(new($"{part.Name} {what}", kind, true));
        return unknowns.Count - 1;
    }

    /// <summary>The slot of ∂row/∂column; 0 (thrown away) when either is ground.</summary>
    public int Slot(int row, int column)
    {
        if (row == 0 || column == 0)
            return 0;
        if (slots.TryGetValue((row, column), out int slot))
            return slot;
        rows.Add(row);
        columns.Add(column);
        return slots[(row, column)] = rows.Count - 1;
    }

    /// <summary>The four slots of a conductance (or capacitance) between two unknowns.</summary>
    public Quad Quad(int a, int b) => new(Slot(a, a), Slot(a, b), Slot(b, a), Slot(b, b));
}

/// <summary>Slots of a two-terminal conductance between a and b.</summary>
public readonly record struct Quad(int AA, int AB, int BA, int BB)
{
    /// <summary>Adds g to the matrix as a conductance from a to b.</summary>
    public void Add(double[] matrix, double g)
    {
        matrix[AA] += g;
        matrix[AB] -= g;
        matrix[BA] -= g;
        matrix[BB] += g;
    }
}
