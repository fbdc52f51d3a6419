using System.Collections.Immutable;
using System.Globalization;

namespace Consort.Engine.Design;

/// <summary>Reads a formula by recursive descent: sums of products of powers. Never throws.</summary>
public sealed class FormulaParser
{
    private const int LongestText = 4000;
    private const int Deepest = 60;

    /// <summary>k, J/K, exact by the SI's definition.</summary>
    private const double Boltzmann = 1.380649e-23;

    /// <summary>q, C, exact by the SI's definition.</summary>
    private const double Charge = 1.602176634e-19;

    private static readonly string[] Functions =
        [.. Enum.GetNames<FormulaFunction>().Select(name => name.ToLowerInvariant())];

    private static readonly string[] Words = [.. Functions, "t", "T", "k", "q", "pi"];

    private readonly string text;
    private int at;
    private int depth;
    private FormulaFault? fault;

    private FormulaParser(string text) => this.text = text;

    /// <summary>The formula's tree, or why there is none.</summary>
    public static (Formula? Tree, FormulaFault? Fault) Parse(string text)
    {
        if (text.Length > LongestText)
            return (null, new($"the formula is longer than {LongestText} characters", "split it over several law parts", 0, 1));
        FormulaParser parser = new(text);
        Formula? tree = parser.Sum();
        parser.SkipSpace();
        if (parser.fault is null && parser.at < text.Length)
            parser.Fail($"'{text[parser.at]}' does not fit here", "an operator + - * / ^ is missing, or a bracket is one too many", 1);
        return parser.fault is null ? (tree, null) : (null, parser.fault);
    }

    private Formula? Sum()
    {
        if (++depth > Deepest)
            return Fail("brackets nested too deep", "write it flatter", 1);
        Formula? left = Product();
        while (left is not null && Sign() is { } sign)
            left = Join(sign == '+' ? FormulaOperator.Add : FormulaOperator.Subtract, left, Product());
        depth--;
        return left;
    }

    private char? Sign() => Take('+') ? '+' : Take('-') ? '-' : null;

    private Formula? Product()
    {
        Formula? left = Unary();
        while (left is not null)
        {
            if (Take('*'))
                left = Join(FormulaOperator.Multiply, left, Unary());
            else if (Take('/'))
                left = Join(FormulaOperator.Divide, left, Unary());
            else
                break;
        }
        return left;
    }

    private Formula? Unary()
    {
        SkipSpace();
        int start = at;
        if (++depth > Deepest)
            return Fail("signs nested too deep", "write it flatter", 1);
        bool plus = Take('+');
        Formula? result = plus ? Unary()
            : !Take('-') ? Power()
            : Unary() is { } of ? new Formula.Negative(of, start, at - start)
            : null;
        depth--;
        return result;
    }

    private Formula? Power()
    {
        Formula? basis = Atom();
        return basis is not null && Take('^') ? Join(FormulaOperator.Power, basis, Unary()) : basis;
    }

    private Formula? Atom()
    {
        SkipSpace();
        if (at >= text.Length)
            return Fail("the formula ends too early", "a number, a [net], a function or a bracket is missing at its end", 1);
        char c = text[at];
        if (char.IsAsciiDigit(c) || c == '.')
            return Number();
        if (c == '[')
            return Net();
        if (c == '(')
            return Bracket();
        if (char.IsAsciiLetter(c))
            return Word();
        return Fail($"'{c}' does not fit here", "a number, a [net], a function or a bracket is wanted", 1);
    }

    private Formula? Number()
    {
        int start = at;
        while (at < text.Length && (char.IsAsciiDigit(text[at]) || text[at] == '.'))
            at++;
        int exponent = at;
        if (exponent < text.Length && text[exponent] is 'e' or 'E')
        {
            exponent++;
            if (exponent < text.Length && text[exponent] is '+' or '-')
                exponent++;
            if (exponent < text.Length && char.IsAsciiDigit(text[exponent]))
                for (at = exponent; at < text.Length && char.IsAsciiDigit(text[at]); )
                    at++;
        }
        string digits = text[start..at];
        if (!double.TryParse(digits, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
            return FailAt(start, $"{ErrorList.Quote(digits)} is not a number", "write plain SI numbers, as 4700 or 1e-9", at - start);
        if (at < text.Length && char.IsLetter(text[at]))
            return Fail($"'{text[at]}' follows a number", "no units or multipliers in a formula: write 1e-9 for 1n; a product needs *", 1);
        return new Formula.Number(value, start, at - start);
    }

    private Formula? Net()
    {
        int start = at;
        int end = text.IndexOf(']', at);
        if (end < 0)
            return Fail("'[' without its ']'", "write a net as [pitch bus]", text.Length - at);
        string name = text[(at + 1)..end].Trim();
        at = end + 1;
        return name.Length == 0
            ? FailAt(start, "no net between the brackets", "write a net as [pitch bus]", at - start)
            : new Formula.Net(name, start, at - start);
    }

    private Formula? Bracket()
    {
        int start = at++;
        Formula? inner = Sum();
        if (inner is null)
            return null;
        return Take(')') ? inner : FailAt(start, "'(' without its ')'", "close the bracket", 1);
    }

    private Formula? Word()
    {
        int start = at;
        while (at < text.Length && char.IsAsciiLetterOrDigit(text[at]))
            at++;
        string word = text[start..at];
        int length = at - start;
        if (Array.IndexOf(Functions, word) is >= 0 and int index)
            return Call((FormulaFunction)index, start, word);
        return word switch
        {
            "t" => new Formula.Time(start, length),
            "T" => new Formula.Temperature(start, length),
            "k" => new Formula.Number(Boltzmann, start, length),
            "q" => new Formula.Number(Charge, start, length),
            "pi" => new Formula.Number(Math.PI, start, length),
            _ => FailAt(start, $"{ErrorList.Quote(word)} is no function or constant", Mend(word), length),
        };
    }

    private static string Mend(string word) =>
        NearName.Of(word, Words) is { } near
            ? $"did you mean '{near}'? a net's voltage is written [{word}]"
            : $"a net's voltage is written [{word}]; functions are {string.Join(' ', Functions)}";

    private Formula? Call(FormulaFunction function, int start, string word)
    {
        if (!Take('('))
            return FailAt(start, $"{word} without its bracket", $"write {word}(...)", word.Length);
        List<Formula> arguments = [];
        do
        {
            if (Sum() is not { } argument)
                return null;
            arguments.Add(argument);
        } while (Take(','));
        if (!Take(')'))
            return FailAt(start, $"the bracket of {word} is not closed", "close the bracket", at - start);
        int wanted = function is FormulaFunction.Min or FormulaFunction.Max ? 2 : 1;
        return arguments.Count == wanted
            ? new Formula.Call(function, [.. arguments], start, at - start)
            : FailAt(start, $"{word} takes {wanted} argument{(wanted == 1 ? "" : "s")}, not {arguments.Count}",
                wanted == 2 ? $"nest them: {word}(a, {word}(b, c))" : "delete the rest", at - start);
    }

    private static Formula? Join(FormulaOperator op, Formula left, Formula? right) =>
        right is null ? null : new Formula.Binary(op, left, right, left.Start, right.Start + right.Length - left.Start);

    private bool Take(char wanted)
    {
        SkipSpace();
        if (at >= text.Length || text[at] != wanted)
            return false;
        at++;
        return true;
    }

    private void SkipSpace()
    {
        while (at < text.Length && char.IsWhiteSpace(text[at]))
            at++;
    }

    private Formula? Fail(string what, string mend, int length) => FailAt(at, what, mend, length);

    private Formula? FailAt(int start, string what, string mend, int length)
    {
        fault ??= new(what, mend, Math.Min(start, Math.Max(0, text.Length - 1)), length);
        return null;
    }
}
