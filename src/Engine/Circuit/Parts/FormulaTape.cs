using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Works a formula out.</summary>
/// <param name="x">All unknowns.</param>
/// <param name="time">s.</param>
/// <param name="kelvin">K.</param>
/// <param name="slopes">Receives the derivatives by the formula's nets.</param>
internal delegate double CompiledFormula(double[] x, double time, double kelvin, double[] slopes);

/// <summary>A part's formula, compiled, with its last derivatives by all nets that it names.</summary>
internal sealed class FormulaTape
{
    private readonly int[] nets;
    private readonly double[] slopes;
    private readonly CompiledFormula work;

    private FormulaTape(CompiledFormula work, int[] nets, bool hasTime)
    {
        (this.work, this.nets, HasTime) = (work, nets, hasTime);
        slopes = new double[nets.Length];
    }

    /// <summary>Compiles a part's formula; null when it has none.</summary>
    public static FormulaTape? Of(Part part, Assembly at)
    {
        if (!part.Texts.TryGetValue("formula", out string? text))
            return null;
        (Formula? tree, FormulaFault? fault) = FormulaParser.Parse(text);
        if (tree is null)
            throw new ArgumentException($"{part.Name}: {fault?.What}");
        int[] nets = [.. tree.Nets().Select(at.Net).Distinct()];
        FormulaProgram program = FormulaProgram.Of(tree, name => Array.IndexOf(nets, at.Net(name)));
        return new(FormulaEmitter.Emit(program, nets), nets, tree.HasTime);
    }

    /// <summary>True when the formula names the time.</summary>
    public bool HasTime { get; }

    /// <summary>The value at a state; its derivatives wait for <see cref="Add"/>.</summary>
    public double Evaluate(double[] x, double time, double kelvin) => work(x, time, kelvin, slopes);

    /// <summary>The slots of a row by the nets that the formula names.</summary>
    public int[] SlotsOf(int row, Assembly at) => [.. nets.Select(net => at.Slot(row, net))];

    /// <summary>Adds the derivatives of the last value, times a factor, to a row's slots.</summary>
    public void Add(double[] matrix, int[] slots, double factor)
    {
        for (int k = 0; k < slots.Length; k++)
            matrix[slots[k]] += factor * slopes[k];
    }
}
