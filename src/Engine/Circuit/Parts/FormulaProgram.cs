using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>What an operation of a formula does.</summary>
internal enum FormulaCode : byte
{
    Negative,
    Add,
    Subtract,
    Multiply,
    Divide,
    Power,
    Call,
}

/// <summary>One operation on the values at two places; the second place does not count where one will do.</summary>
internal readonly record struct FormulaOperation(FormulaCode Code, FormulaFunction Function, int A, int B);

/// <summary>A formula's tree laid out flat: numbers with numbers are worked out at once, what stands twice is done once.</summary>
internal sealed class FormulaProgram
{
    // Numbers are counted from the first place behind the nets; operations have negative places until all are known.
    private readonly Dictionary<FormulaOperation, int> done = [];
    private readonly Func<string, int> placeOfNet;
    private readonly int firstNumber;
    private readonly int timePlace;
    private readonly int kelvinPlace;

    private FormulaProgram(Func<string, int> placeOfNet, int firstNumber, int timePlace, int kelvinPlace) =>
        (this.placeOfNet, this.firstNumber, this.timePlace, this.kelvinPlace) = (placeOfNet, firstNumber, timePlace, kelvinPlace);

    /// <summary>In the order in which they are to be done.</summary>
    public List<FormulaOperation> Operations { get; } = [];

    /// <summary>Numbers that stand in it.</summary>
    public List<double> Numbers { get; } = [];

    /// <summary>Place of the formula's value.</summary>
    public int Result { get; private set; }

    /// <summary>Lays a tree out.</summary>
    /// <param name="placeOfNet">Place of a net's voltage.</param>
    /// <param name="firstNumber">Place behind the nets.</param>
    public static FormulaProgram Of(Formula tree, Func<string, int> placeOfNet, int firstNumber, int timePlace, int kelvinPlace)
    {
        FormulaProgram program = new(placeOfNet, firstNumber, timePlace, kelvinPlace);
        int result = program.Place(tree);
        program.Settle(result);
        return program;
    }

    private int Place(Formula formula) =>
        formula switch
        {
            Formula.Number number => Number(number.Value),
            Formula.Net net => placeOfNet(net.Name),
            Formula.Time => timePlace,
            Formula.Temperature => kelvinPlace,
            Formula.Negative minus => Do(FormulaCode.Negative, default, Place(minus.Of)),
            Formula.Binary two => Do(CodeOf(two.Operator), default, Place(two.Left), Place(two.Right)),
            Formula.Call { Arguments.Length: 1 } call => Do(FormulaCode.Call, call.Function, Place(call.Arguments[0])),
            Formula.Call call => Do(FormulaCode.Call, call.Function, Place(call.Arguments[0]), Place(call.Arguments[1])),
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

    private int Number(double value)
    {
        int known = Numbers.FindIndex(number => BitConverter.DoubleToInt64Bits(number) == BitConverter.DoubleToInt64Bits(value));
        if (known >= 0)
            return firstNumber + known;
        Numbers.Add(value);
        return firstNumber + Numbers.Count - 1;
    }

    private int Do(FormulaCode code, FormulaFunction function, int a, int? second = null)
    {
        int b = second ?? a;
        FormulaOperation operation = new(code, function, a, b);
        if (IsNumber(a) && IsNumber(b))
            return Number(FormulaTape.Value(operation, Numbers[a - firstNumber], Numbers[b - firstNumber]));
        if (done.TryGetValue(operation, out int place))
            return place;
        Operations.Add(operation);
        return done[operation] = -Operations.Count;
    }

    private bool IsNumber(int place) => place >= firstNumber;

    // The operations come behind the last number.
    private void Settle(int result)
    {
        int first = firstNumber + Numbers.Count;
        int At(int place) => place < 0 ? first - 1 - place : place;
        for (int i = 0; i < Operations.Count; i++)
            Operations[i] = Operations[i] with { A = At(Operations[i].A), B = At(Operations[i].B) };
        Result = At(result);
    }
}
