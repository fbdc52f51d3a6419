using System.Globalization;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class FormulaParserTests
{
    [Theory]
    [InlineData("1 + 2 * 3", "(1 + (2 * 3))")]
    [InlineData("1 - 2 - 3", "((1 - 2) - 3)")]
    [InlineData("8 / 4 / 2", "((8 / 4) / 2)")]
    [InlineData("2 ^ 3 ^ 2", "(2 ^ (3 ^ 2))")]
    [InlineData("-2 ^ 2", "-(2 ^ 2)")]
    [InlineData("2 ^ -1", "(2 ^ -1)")]
    [InlineData("-[a b] * t", "(-[a b] * t)")]
    [InlineData("(1 + T) * k", "((1 + T) * 1.380649E-23)")]
    [InlineData("max(1, exp(q))", "max(1, exp(1.602176634E-19))")]
    [InlineData("+1e-3*[x]", "(0.001 * [x])")]
    [InlineData("log10(pi) + step([y])", "(log10(3.141592653589793) + step([y]))")]
    public void A_formula_reads_with_the_usual_precedence(string text, string tree) =>
        Assert.Equal(tree, Show(FormulaParser.Parse(text).Tree!));

    [Theory]
    [InlineData("", 0, "the formula ends too early")]
    [InlineData("1 +", 2, "the formula ends too early")]
    [InlineData("1n", 1, "'n' follows a number")]
    [InlineData("2 t", 2, "'t' does not fit here")]
    [InlineData("[a", 0, "'[' without its ']'")]
    [InlineData("[ ]", 0, "no net between the brackets")]
    [InlineData("(1 + 2", 0, "'(' without its ')'")]
    [InlineData("1)", 1, "')' does not fit here")]
    [InlineData("sin 1", 0, "sin without its bracket")]
    [InlineData("min(1)", 0, "min takes 2 arguments, not 1")]
    [InlineData("sin(1, 2)", 0, "sin takes 1 argument, not 2")]
    [InlineData("1..2", 0, "'1..2' is not a number")]
    [InlineData("1e999", 0, "'1e999' is not a number")]
    [InlineData("foo(1)", 0, "'foo' is no function or constant")]
    [InlineData("1 % 2", 2, "'%' does not fit here")]
    public void A_wrong_formula_says_what_and_where(string text, int start, string what)
    {
        (Formula? tree, FormulaFault? fault) = FormulaParser.Parse(text);
        Assert.Null(tree);
        Assert.Equal((what, start), (fault!.What, fault.Start));
    }

    [Theory]
    [InlineData("(", 100_000)]
    [InlineData("-", 3_000)]
    [InlineData("sin(", 900)]
    [InlineData("2^", 1_900)]
    [InlineData("1+", 1_900)]
    public void Endless_formulas_are_refused_without_a_crash(string piece, int times) =>
        Assert.NotNull(FormulaParser.Parse(string.Concat(Enumerable.Repeat(piece, times))).Fault);

    [Fact]
    public void A_long_sum_is_read() =>
        Assert.NotNull(FormulaParser.Parse(string.Join('+', Enumerable.Repeat("1", 1_900))).Tree);

    [Fact]
    public void Its_nets_are_each_named_once_and_time_is_seen()
    {
        Formula tree = FormulaParser.Parse("[b] * sin([a] * t) + [b]").Tree!;
        Assert.Equal(["b", "a"], tree.Nets());
        Assert.True(tree.HasTime);
        Assert.False(FormulaParser.Parse("[t] * T").Tree!.HasTime);
    }

    private static string Show(Formula formula) =>
        formula switch
        {
            Formula.Number n => n.Value.ToString("R", CultureInfo.InvariantCulture),
            Formula.Net n => $"[{n.Name}]",
            Formula.Time => "t",
            Formula.Temperature => "T",
            Formula.Negative n => $"-{Show(n.Of)}",
            Formula.Binary b => $"({Show(b.Left)} {"+-*/^"[(int)b.Operator]} {Show(b.Right)})",
            Formula.Call c => $"{c.Function.ToString().ToLowerInvariant()}({string.Join(", ", c.Arguments.Select(Show))})",
            _ => throw new InvalidOperationException(formula.ToString()),
        };
}
