using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// A formula as a flat list of operations, run forwards for the value and backwards for its derivatives by all nets
/// (reverse-mode differentiation; Griewank and Walther, Evaluating Derivatives, 2nd ed. 2008). Where a function has no
/// finite value it is followed by something finite: exp by its tangent past 100, 1/x, ln and square root by their value or
/// tangent next to zero; a power of a negative number that is no whole one is zero.
/// </summary>
internal sealed class FormulaTape
{
    private const double ExpKnee = 100;
    private const double Tiny = 1e-30;

    private enum Code
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

    private readonly record struct Operation(Code Code, int A, int B, double Number, FormulaFunction Function);

    private readonly Operation[] operations;
    private readonly int[] nets;
    private readonly double[] values;
    private readonly double[] byLeft;
    private readonly double[] byRight;
    private readonly double[] adjoints;

    private FormulaTape(Operation[] operations, int[] nets)
    {
        this.operations = operations;
        this.nets = nets;
        values = new double[operations.Length];
        byLeft = new double[operations.Length];
        byRight = new double[operations.Length];
        adjoints = new double[operations.Length];
        Derivatives = new double[nets.Length];
    }

    /// <summary>Derivatives of the last value by the nets that it names.</summary>
    private double[] Derivatives { get; }

    /// <summary>Compiles a part's formula; null when it has none.</summary>
    public static FormulaTape? Of(Part part, Assembly at)
    {
        if (!part.Texts.TryGetValue("formula", out string? text))
            return null;
        (Formula? tree, FormulaFault? fault) = FormulaParser.Parse(text);
        if (tree is null)
            throw new ArgumentException($"{part.Name}: {fault?.What}");
        int[] nets = [.. tree.Nets().Select(at.Net).Distinct()];
        List<Operation> operations = [];
        Compile(tree, operations, at, nets);
        return new([.. operations], nets);
    }

    /// <summary>The value at a state; its derivatives wait for <see cref="Add"/>.</summary>
    public double Evaluate(double[] x, double time, double kelvin)
    {
        for (int i = 0; i < operations.Length; i++)
            Forward(i, in operations[i], x, time, kelvin);
        Backward();
        return values[^1];
    }

    /// <summary>The slots of a row by the nets that the formula names.</summary>
    public int[] SlotsOf(int row, Assembly at) => [.. nets.Select(net => at.Slot(row, net))];

    /// <summary>Adds the derivatives of the last value, times a factor, to a row's slots.</summary>
    public void Add(double[] matrix, int[] slots, double factor)
    {
        for (int k = 0; k < slots.Length; k++)
            matrix[slots[k]] += factor * Derivatives[k];
    }

    private void Forward(int i, ref readonly Operation o, double[] x, double time, double kelvin)
    {
        double a = values[o.A];
        double b = values[o.B];
        (values[i], byLeft[i], byRight[i]) = o.Code switch
        {
            Code.Net => (x[nets[(int)o.Number]], 0, 0),
            Code.Time => (time, 0, 0),
            Code.Temperature => (kelvin, 0, 0),
            Code.Negative => (-a, -1, 0),
            Code.Add => (a + b, 1, 1),
            Code.Subtract => (a - b, 1, -1),
            Code.Multiply => (a * b, b, a),
            Code.Divide => Quotient(a, b),
            Code.Power => Power(a, b),
            Code.Call => Call(o.Function, a, b),
            _ => (o.Number, 0, 0),
        };
    }

    private void Backward()
    {
        Array.Clear(adjoints);
        Array.Clear(Derivatives);
        adjoints[^1] = 1;
        for (int i = operations.Length - 1; i >= 0; i--)
        {
            double adjoint = adjoints[i];
            if (adjoint == 0)
                continue;
            ref readonly Operation o = ref operations[i];
            if (o.Code == Code.Net)
                Derivatives[(int)o.Number] += adjoint;
            if (byLeft[i] != 0)
                adjoints[o.A] += adjoint * byLeft[i];
            if (byRight[i] != 0)
                adjoints[o.B] += adjoint * byRight[i];
        }
    }

    private static (double, double, double) Quotient(double a, double b)
    {
        if (Math.Abs(b) < Tiny)
            return (a / Math.CopySign(Tiny, b), 1 / Math.CopySign(Tiny, b), 0);
        return (a / b, 1 / b, -a / b / b);
    }

    private static (double, double, double) Power(double a, double b)
    {
        if (a < 0 && b != Math.Round(b))
            return (0, 0, 0);
        double value = Math.Pow(a, b);
        double byBase = b == 0 ? 0 : b * Math.Pow(a, b - 1);
        double byExponent = a > 0 ? value * Math.Log(a) : 0;
        return (Finite(value), Finite(byBase), Finite(byExponent));
    }

    private static (double, double, double) Call(FormulaFunction function, double a, double b)
    {
        double slope;
        switch (function)
        {
            case FormulaFunction.Exp:
                double exp = Junction.Exp(a, ExpKnee, out slope);
                return (exp, slope, 0);
            case FormulaFunction.Ln:
                return a > Tiny ? (Math.Log(a), 1 / a, 0) : (Math.Log(Tiny), 0, 0);
            case FormulaFunction.Log10:
                return a > Tiny ? (Math.Log10(a), 1 / (a * Math.Log(10)), 0) : (Math.Log10(Tiny), 0, 0);
            case FormulaFunction.Sqrt:
                return a > Tiny ? (Math.Sqrt(a), 0.5 / Math.Sqrt(a), 0) : (0, 0, 0);
            case FormulaFunction.Sin:
                return (Math.Sin(a), Math.Cos(a), 0);
            case FormulaFunction.Cos:
                return (Math.Cos(a), -Math.Sin(a), 0);
            case FormulaFunction.Tan:
                double tan = Math.Tan(a);
                return (tan, 1 + tan * tan, 0);
            case FormulaFunction.Tanh:
                double tanh = Smooth.Tanh(a, out slope);
                return (tanh, slope, 0);
            case FormulaFunction.Abs:
                return (Math.Abs(a), Math.Sign(a), 0);
            case FormulaFunction.Min:
                return a <= b ? (a, 1, 0) : (b, 0, 1);
            case FormulaFunction.Max:
                return a >= b ? (a, 1, 0) : (b, 0, 1);
            default:
                return (a < 0 ? 0 : 1, 0, 0);
        }
    }

    private static double Finite(double value) => double.IsNaN(value) ? 0 : Math.Clamp(value, -1e100, 1e100);

    private static int Compile(Formula formula, List<Operation> into, Assembly at, int[] nets)
    {
        Operation operation = formula switch
        {
            Formula.Number number => new(Code.Number, 0, 0, number.Value, default),
            Formula.Net net => new(Code.Net, 0, 0, Array.IndexOf(nets, at.Net(net.Name)), default),
            Formula.Time => new(Code.Time, 0, 0, 0, default),
            Formula.Temperature => new(Code.Temperature, 0, 0, 0, default),
            Formula.Negative minus => new(Code.Negative, Compile(minus.Of, into, at, nets), 0, 0, default),
            Formula.Binary two => Binary(two, into, at, nets),
            Formula.Call call => Function(call, into, at, nets),
            _ => throw new ArgumentException($"no such term: {formula}"),
        };
        into.Add(operation);
        return into.Count - 1;
    }

    private static Operation Binary(Formula.Binary two, List<Operation> into, Assembly at, int[] nets)
    {
        int left = Compile(two.Left, into, at, nets);
        int right = Compile(two.Right, into, at, nets);
        Code code = two.Operator switch
        {
            FormulaOperator.Add => Code.Add,
            FormulaOperator.Subtract => Code.Subtract,
            FormulaOperator.Multiply => Code.Multiply,
            FormulaOperator.Divide => Code.Divide,
            _ => Code.Power,
        };
        return new(code, left, right, 0, default);
    }

    private static Operation Function(Formula.Call call, List<Operation> into, Assembly at, int[] nets)
    {
        int left = Compile(call.Arguments[0], into, at, nets);
        int right = call.Arguments.Length > 1 ? Compile(call.Arguments[1], into, at, nets) : 0;
        return new(Code.Call, left, right, 0, call.Function);
    }
}
