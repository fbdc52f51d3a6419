using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Arithmetic of net voltages, time and temperature, as a tree. All values are plain SI.</summary>
/// <param name="Start">Offset of its first character in the formula's text.</param>
/// <param name="Length">Characters.</param>
public abstract record Formula(int Start, int Length)
{
    /// <summary>A number; the constants k, q and pi become numbers too.</summary>
    public sealed record Number(double Value, int Start, int Length) : Formula(Start, Length);

    /// <summary>Voltage of a net against 0 V: <c>[pitch bus]</c>.</summary>
    public sealed record Net(string Name, int Start, int Length) : Formula(Start, Length);

    /// <summary>Time <c>t</c>, s.</summary>
    public sealed record Time(int Start, int Length) : Formula(Start, Length);

    /// <summary>Temperature <c>T</c>, K.</summary>
    public sealed record Temperature(int Start, int Length) : Formula(Start, Length);

    /// <summary>Minus something.</summary>
    public sealed record Negative(Formula Of, int Start, int Length) : Formula(Start, Length);

    /// <summary>Two terms and an operator.</summary>
    public sealed record Binary(FormulaOperator Operator, Formula Left, Formula Right, int Start, int Length)
        : Formula(Start, Length);

    /// <summary>A function of one argument, or of two for min and max.</summary>
    public sealed record Call(FormulaFunction Function, ImmutableArray<Formula> Arguments, int Start, int Length)
        : Formula(Start, Length);

    /// <summary>Every net that stands in it, each once, in the order of the text.</summary>
    public ImmutableArray<string> Nets()
    {
        List<string> names = [];
        Gather(this, names);
        return [.. names.Distinct()];
    }

    /// <summary>True when time stands in it.</summary>
    public bool HasTime =>
        this switch
        {
            Time => true,
            Negative minus => minus.Of.HasTime,
            Binary two => two.Left.HasTime || two.Right.HasTime,
            Call call => call.Arguments.Any(argument => argument.HasTime),
            _ => false,
        };

    private static void Gather(Formula formula, List<string> names)
    {
        switch (formula)
        {
            case Net net:
                names.Add(net.Name);
                break;
            case Negative minus:
                Gather(minus.Of, names);
                break;
            case Binary two:
                Gather(two.Left, names);
                Gather(two.Right, names);
                break;
            case Call call:
                foreach (Formula argument in call.Arguments)
                    Gather(argument, names);
                break;
            default:
                break;
        }
    }
}

/// <summary>The five operators.</summary>
public enum FormulaOperator
{
    /// <summary>a + b</summary>
    Add,
    /// <summary>a - b</summary>
    Subtract,
    /// <summary>a * b</summary>
    Multiply,
    /// <summary>a / b</summary>
    Divide,
    /// <summary>a ^ b; binds to the right and before a minus: -2^2 is -4.</summary>
    Power,
}

/// <summary>The functions. Angles in radian.</summary>
public enum FormulaFunction
{
    /// <summary>e to the argument.</summary>
    Exp,
    /// <summary>Natural logarithm.</summary>
    Ln,
    /// <summary>Decimal logarithm.</summary>
    Log10,
    /// <summary>Square root.</summary>
    Sqrt,
    /// <summary>Sine.</summary>
    Sin,
    /// <summary>Cosine.</summary>
    Cos,
    /// <summary>Tangent.</summary>
    Tan,
    /// <summary>Hyperbolic tangent.</summary>
    Tanh,
    /// <summary>Absolute value.</summary>
    Abs,
    /// <summary>Lesser of two.</summary>
    Min,
    /// <summary>Greater of two.</summary>
    Max,
    /// <summary>0 below zero, else 1.</summary>
    Step,
}

/// <summary>Why a formula cannot be read.</summary>
/// <param name="What">What is wrong.</param>
/// <param name="Mend">How to mend it.</param>
/// <param name="Start">Offset in the formula's text.</param>
/// <param name="Length">Characters.</param>
public sealed record FormulaFault(string What, string Mend, int Start, int Length);
