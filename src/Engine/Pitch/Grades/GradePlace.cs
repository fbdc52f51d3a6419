using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Quantities;

namespace Consort.Engine.Pitch.Grades;

/// <summary>A grade that can be had for a part: limits and price.</summary>
/// <param name="Tolerance">Relative half-width of its value's spread.</param>
/// <param name="Drift">Limit of its relative change per kelvin.</param>
/// <param name="Price">Of one piece, in the folder's currency.</param>
public sealed record Grade(double Tolerance, double Drift, double Price);

/// <summary>A part of a module whose grade may be chosen: the same in every unit of that module.</summary>
/// <param name="File">The module's file.</param>
/// <param name="Designator">The part.</param>
/// <param name="Part">One of its pieces in the voice.</param>
/// <param name="Pieces">Their names in the voice.</param>
/// <param name="Grades">What can be had, the dearest and closest first; none is looser and dearer than another.</param>
/// <param name="Current">What the module asks for now.</param>
public sealed record GradePlace(
    string File,
    string Designator,
    Part Part,
    ImmutableArray<string> Pieces,
    ImmutableArray<Grade> Grades,
    int Current
)
{
    /// <summary>Price of all pieces at a grade.</summary>
    public double Cost(int grade) => Pieces.Length * Grades[grade].Price;

    /// <summary>The places of a voice, as far as a shelf has a choice of two grades with prices.</summary>
    /// <param name="voice">The voice.</param>
    /// <param name="stock">The shelf.</param>
    /// <param name="matters">True for a piece that any pitch hangs on.</param>
    public static ImmutableArray<GradePlace> Of(Voice voice, Stock stock, Func<string, bool> matters)
    {
        List<GradePlace> places = [];
        foreach (IGrouping<Module, Member> group in voice.Members.GroupBy(member => member.Module))
            foreach (Part part in group.Key.Circuit)
            {
                ImmutableArray<string> pieces = [.. group.Select(member => $"{member.Name}/{part.Name}")];
                if (part.Numbers.GetValueOrDefault("tolerance") > 0 && part.Texts.GetValueOrDefault("array") is null or "" && pieces.Any(matters) && Choose(part, stock) is { } choice)
                    places.Add(new(part.At.File, part.Name, part, pieces, choice.Grades, choice.Current));
            }
        return [.. places];
    }

    private static (ImmutableArray<Grade> Grades, int Current)? Choose(Part part, Stock stock)
    {
        Grade[] offered = [.. stock.Items.Where(item => Fits(part, item)).Select(item => new Grade(item.Tolerance!.Value, item.Drift ?? 0, item.Price!.Value))];
        double tolerance = part.Number("tolerance");
        double drift = part.Numbers.GetValueOrDefault("drift");
        Grade? now = offered.Where(grade => Within(grade.Tolerance, tolerance) && Within(grade.Drift, drift)).MinBy(grade => grade.Price);
        if (now is null)
            return null;
        Grade current = new(tolerance, drift, now.Price);
        ImmutableArray<Grade> grades =
        [
            .. offered.Where(grade => grade != now).Append(current).Where(grade => grade == current || !offered.Append(current).Any(other => IsBetter(other, grade)))
                .Distinct().OrderByDescending(grade => grade.Price).ThenBy(grade => grade.Drift),
        ];
        return grades.Length < 2 ? null : (grades, grades.IndexOf(current));
    }

    private static bool Within(double offered, double asked) => offered <= asked * (1 + 1e-9);

    private static bool IsBetter(Grade one, Grade other) =>
        one != other && one.Price <= other.Price && one.Tolerance <= other.Tolerance && one.Drift <= other.Drift;

    private static bool Fits(Part part, StockItem item)
    {
        double value = Math.Abs(part.Number("value"));
        bool isValue = item.Value is { } only ? Math.Abs(only / value - 1) < 1e-6 : item.Series is { } series && Series.Find(series)!.Holds(value);
        return item.Kind == part.Kind
            && item is { Price: not null, Tolerance: > 0, Measured.IsEmpty: true }
            && isValue
            && Math.Abs((item.Tempco ?? 0) - part.Numbers.GetValueOrDefault("tempco")) < 1e-9;
    }
}
