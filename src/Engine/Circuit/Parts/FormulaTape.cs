using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// A formula as a flat list of operations, run forwards for the value and backwards for its derivatives by all nets
/// (reverse-mode differentiation; Griewank and Walther, Evaluating Derivatives, 2nd ed. 2008). Numbers, nets, time and
/// temperature are leaves: they stand at fixed places before the operations. Where a function has no finite value it is
/// followed by something finite: exp by its tangent past 100, 1/x, ln and square root by their value or tangent next to
/// zero; a power of a negative number that is no whole one is zero.
/// </summary>
internal sealed class FormulaTape
{
    private const double ExpKnee = 100;
    private const double Tiny = 1e-30;

    // Places of time and temperature; nets follow, then numbers, then the operations.
    private const int TimePlace = 0;
    private const int KelvinPlace = 1;
    private const int FirstNet = 2;

    private readonly FormulaOperation[] operations;
    private readonly int firstOperation;
    private readonly int result;
    private readonly int[] nets;
    private readonly double[] values;
    private readonly double[] adjoints;
    private readonly double[] byLeft; // of operations whose derivatives are not plain
    private readonly double[] byRight;

    private FormulaTape(FormulaProgram program, int[] nets)
    {
        this.nets = nets;
        operations = [.. program.Operations];
        firstOperation = FirstNet + nets.Length + program.Numbers.Count;
        values = new double[firstOperation + operations.Length];
        program.Numbers.CopyTo(values, FirstNet + nets.Length);
        result = program.Result;
        adjoints = new double[values.Length];
        byLeft = new double[operations.Length];
        byRight = new double[operations.Length];
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
        return new(FormulaProgram.Of(tree, name => FirstNet + Array.IndexOf(nets, at.Net(name)), FirstNet + nets.Length, TimePlace, KelvinPlace), nets);
    }

    /// <summary>The value at a state; its derivatives wait for <see cref="Add"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public double Evaluate(double[] x, double time, double kelvin)
    {
        values[TimePlace] = time;
        values[KelvinPlace] = kelvin;
        for (int k = 0; k < nets.Length; k++)
            values[FirstNet + k] = x[nets[k]];
        Forward();
        Backward();
        return values[result];
    }

    /// <summary>The slots of a row by the nets that the formula names.</summary>
    public int[] SlotsOf(int row, Assembly at) => [.. nets.Select(net => at.Slot(row, net))];

    /// <summary>Adds the derivatives of the last value, times a factor, to a row's slots.</summary>
    public void Add(double[] matrix, int[] slots, double factor)
    {
        for (int k = 0; k < slots.Length; k++)
            matrix[slots[k]] += factor * adjoints[FirstNet + k];
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Forward()
    {
        double[] v = values;
        FormulaOperation[] all = operations;
        for (int i = 0; i < all.Length; i++)
        {
            ref readonly FormulaOperation o = ref all[i];
            double a = v[o.A];
            double b = v[o.B];
            v[firstOperation + i] = o.Code switch
            {
                FormulaCode.Negative => -a,
                FormulaCode.Add => a + b,
                FormulaCode.Subtract => a - b,
                FormulaCode.Multiply => a * b,
                _ => Slow(i, in o, a, b),
            };
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Backward()
    {
        double[] v = values;
        double[] adjoint = adjoints;
        FormulaOperation[] all = operations;
        Array.Clear(adjoint);
        adjoint[result] = 1;
        for (int i = all.Length - 1; i >= 0; i--)
        {
            double by = adjoint[firstOperation + i];
            if (by == 0)
                continue;
            ref readonly FormulaOperation o = ref all[i];
            switch (o.Code)
            {
                case FormulaCode.Negative:
                    adjoint[o.A] -= by;
                    break;
                case FormulaCode.Add:
                    adjoint[o.A] += by;
                    adjoint[o.B] += by;
                    break;
                case FormulaCode.Subtract:
                    adjoint[o.A] += by;
                    adjoint[o.B] -= by;
                    break;
                case FormulaCode.Multiply:
                    adjoint[o.A] += by * v[o.B];
                    adjoint[o.B] += by * v[o.A];
                    break;
                default:
                    adjoint[o.A] += by * byLeft[i];
                    adjoint[o.B] += by * byRight[i];
                    break;
            }
        }
    }

    // What keeps its derivatives for the way back.
    private double Slow(int i, ref readonly FormulaOperation o, double a, double b)
    {
        (double value, byLeft[i], byRight[i]) = o.Code switch
        {
            FormulaCode.Divide => Quotient(a, b),
            FormulaCode.Power => Power(a, b),
            _ => Call(o.Function, a, b),
        };
        return value;
    }

    /// <summary>One operation on numbers.</summary>
    internal static double Value(FormulaOperation o, double a, double b) =>
        o.Code switch
        {
            FormulaCode.Negative => -a,
            FormulaCode.Add => a + b,
            FormulaCode.Subtract => a - b,
            FormulaCode.Multiply => a * b,
            FormulaCode.Divide => Quotient(a, b).Item1,
            FormulaCode.Power => Power(a, b).Item1,
            _ => Call(o.Function, a, b).Item1,
        };

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
}
