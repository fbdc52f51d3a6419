using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// What formulas call, with slopes. Where a function has no finite value it is followed by something finite: exp by its
/// tangent past 100, 1/x, ln and square root by their value or tangent next to zero; a power of a negative number that is
/// no whole one is zero.
/// </summary>
internal static class FormulaFunctions
{
    private const double ExpKnee = 100;
    private const double Tiny = 1e-30;

    public static double Divide(double a, double b, out double byA, out double byB)
    {
        if (Math.Abs(b) < Tiny)
        {
            (byA, byB) = (1 / Math.CopySign(Tiny, b), 0);
            return a / Math.CopySign(Tiny, b);
        }
        (byA, byB) = (1 / b, -a / b / b);
        return a / b;
    }

    public static double Power(double a, double b, out double byA, out double byB)
    {
        (byA, byB) = (0, 0);
        if (a < 0 && b != Math.Round(b))
            return 0;
        double value = Math.Pow(a, b);
        byA = Finite(b == 0 ? 0 : b * Math.Pow(a, b - 1));
        byB = Finite(a > 0 ? value * Math.Log(a) : 0);
        return Finite(value);
    }

    public static double Exp(double a, out double slope) => Junction.Exp(a, ExpKnee, out slope);

    public static double Ln(double a, out double slope)
    {
        slope = a > Tiny ? 1 / a : 0;
        return Math.Log(Math.Max(a, Tiny));
    }

    public static double Log10(double a, out double slope)
    {
        slope = a > Tiny ? 1 / (a * Math.Log(10)) : 0;
        return Math.Log10(Math.Max(a, Tiny));
    }

    public static double Sqrt(double a, out double slope)
    {
        double root = a > Tiny ? Math.Sqrt(a) : 0;
        slope = a > Tiny ? 0.5 / root : 0;
        return root;
    }

    public static double Sin(double a, out double slope)
    {
        slope = Math.Cos(a);
        return Math.Sin(a);
    }

    public static double Cos(double a, out double slope)
    {
        slope = -Math.Sin(a);
        return Math.Cos(a);
    }

    public static double Tan(double a, out double slope)
    {
        double tan = Math.Tan(a);
        slope = 1 + tan * tan;
        return tan;
    }

    public static double Tanh(double a, out double slope) => Smooth.Tanh(a, out slope);

    public static double Abs(double a, out double slope)
    {
        slope = double.IsNaN(a) ? 0 : Math.Sign(a);
        return Math.Abs(a);
    }

    public static double Step(double a, out double slope)
    {
        slope = 0;
        return a < 0 ? 0 : 1;
    }

    public static double Min(double a, double b, out double byA, out double byB)
    {
        (byA, byB) = a <= b ? (1, 0) : (0, 1);
        return a <= b ? a : b;
    }

    public static double Max(double a, double b, out double byA, out double byB)
    {
        (byA, byB) = a >= b ? (1, 0) : (0, 1);
        return a >= b ? a : b;
    }

    /// <summary>The value alone; b counts for functions of two arguments.</summary>
    public static double Call(FormulaFunction function, double a, double b) =>
        function switch
        {
            FormulaFunction.Exp => Exp(a, out _),
            FormulaFunction.Ln => Ln(a, out _),
            FormulaFunction.Log10 => Log10(a, out _),
            FormulaFunction.Sqrt => Sqrt(a, out _),
            FormulaFunction.Sin => Sin(a, out _),
            FormulaFunction.Cos => Cos(a, out _),
            FormulaFunction.Tan => Tan(a, out _),
            FormulaFunction.Tanh => Tanh(a, out _),
            FormulaFunction.Abs => Abs(a, out _),
            FormulaFunction.Min => Min(a, b, out _, out _),
            FormulaFunction.Max => Max(a, b, out _, out _),
            _ => Step(a, out _),
        };

    private static double Finite(double value) => double.IsNaN(value) ? 0 : Math.Clamp(value, -1e100, 1e100);
}
