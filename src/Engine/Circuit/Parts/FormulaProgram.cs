using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>What a term of a formula is.</summary>
internal enum FormulaCode
{
    Number,
    Net,
    Time,
    Temperature,
    Negative,
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Call,
}

/// <summary>One term: a leaf, or an operation on terms before it.</summary>
/// <param name="Code">What it is.</param>
/// <param name="A">Index of the first operand; for a net, which of the formula's nets.</param>
/// <param name="B">Index of the second operand, where there is one.</param>
/// <param name="Number">A number's value.</param>
/// <param name="Function">Which function is called.</param>
internal readonly record struct FormulaTerm(FormulaCode Code, int A = 0, int B = 0, double Number = 0, FormulaFunction Function = default)
{
    /// <summary>True for what has no operands.</summary>
    public bool IsLeaf => Code <= FormulaCode.Temperature;
}

/// <summary>A formula's tree laid out flat: numbers with numbers are worked out at once, what stands twice is done once.</summary>
internal sealed class FormulaProgram
{
    private readonly List<FormulaTerm> terms = [];
    private readonly Dictionary<FormulaTerm, int> known = [];
    private readonly Func<string, int> indexOfNet;

    private FormulaProgram(Func<string, int> indexOfNet) => this.indexOfNet = indexOfNet;

    /// <summary>Operands before what uses them.</summary>
    public IReadOnlyList<FormulaTerm> Terms => terms;

    /// <summary>Index of the term that is the formula's value.</summary>
    public int Result { get; private set; }

    /// <summary>Lays a tree out; the function numbers its nets.</summary>
    public static FormulaProgram Of(Formula tree, Func<string, int> indexOfNet)
    {
        FormulaProgram program = new(indexOfNet);
        program.Result = program.Lay(tree);
        return program;
    }

    private int Lay(Formula formula) =>
        formula switch
        {
            Formula.Number number => Number(number.Value),
            Formula.Net net => Put(new(FormulaCode.Net, indexOfNet(net.Name))),
            Formula.Time => Put(new(FormulaCode.Time)),
            Formula.Temperature => Put(new(FormulaCode.Temperature)),
            Formula.Negative minus => Do(FormulaCode.Negative, default, Lay(minus.Of)),
            Formula.Binary two => Do(CodeOf(two.Operator), default, Lay(two.Left), Lay(two.Right)),
            Formula.Call { Arguments.Length: 1 } call => Do(FormulaCode.Call, call.Function, Lay(call.Arguments[0])),
            Formula.Call call => Do(FormulaCode.Call, call.Function, Lay(call.Arguments[0]), Lay(call.Arguments[1])),
            _ => throw new ArgumentException($"no such term: {formula}"),
        };

    private static FormulaCode CodeOf(FormulaOperator op) =>
        op switch
        {
            FormulaOperator.Add => FormulaCode.Add,
            FormulaOperator.Subtract => FormulaCode.Subtract,
            FormulaOperator.Multiply => FormulaCode.Multiply,
            FormulaOperator.Divide => FormulaCode.Divide,
            _ => FormulaCode.Power,
        };

    private int Number(double value) => Put(new(FormulaCode.Number, Number: value));

    private int Do(FormulaCode code, FormulaFunction function, int a, int? second = null)
    {
        int b = second ?? a;
        if (terms[a].Code == FormulaCode.Number && terms[b].Code == FormulaCode.Number)
            return Number(Value(code, function, terms[a].Number, terms[b].Number));
        return Put(new(code, a, b, 0, function));
    }

    private int Put(FormulaTerm term)
    {
        if (known.TryGetValue(term, out int index))
            return index;
        terms.Add(term);
        return known[term] = terms.Count - 1;
    }

    private static double Value(FormulaCode code, FormulaFunction function, double a, double b) =>
        code switch
        {
            FormulaCode.Negative => -a,
            FormulaCode.Add => a + b,
            FormulaCode.Subtract => a - b,
            FormulaCode.Multiply => a * b,
            FormulaCode.Divide => FormulaFunctions.Divide(a, b, out _, out _),
            FormulaCode.Power => FormulaFunctions.Power(a, b, out _, out _),
            _ => FormulaFunctions.Call(function, a, b),
        };
}
