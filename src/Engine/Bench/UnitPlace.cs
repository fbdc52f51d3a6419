using Consort.Engine.Design;

namespace Consort.Engine.Bench;

/// <summary>A unit in the place of the voice's member that it was built for.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Member">The first member of its module, or the one that was named.</param>
/// <param name="Law">What its pitch should be.</param>
public sealed record UnitPlace(UnitName Unit, Member Member, PitchSpec Law)
{
    /// <summary>The ideal frequency at a control voltage, Hz. A unit is measured by itself: the interval at which the member
    /// stands in the voice is set in playing and is not in it.</summary>
    public double IdealHertz(double volts) => Law.IdealHertz(volts);

    /// <summary>Error against that, cents.</summary>
    public double Cents(double volts, double hertz) => 1200 * Math.Log2(hertz / IdealHertz(volts));

    /// <summary>Finds the place; null with the reason and its mend.</summary>
    /// <param name="member">The member to stand in for; null: the first of the unit's module.</param>
    public static (UnitPlace? Place, string? What, string? Mend) Find(Voice voice, string unit, string? member)
    {
        (UnitName? read, string? fault) = UnitName.Read(unit);
        Member[] oscillators = [.. voice.Members.Where(one => one.Module.Pitch is not null && one.Module.Sheet is null)];
        string[] modules = [.. oscillators.Select(ModuleOf).Distinct()];
        if (read is not { } name)
            return (null, fault, $"write it as {modules.FirstOrDefault() ?? "module"}/0001");
        Member[] own = [.. oscillators.Where(one => ModuleOf(one) == name.Module)];
        if (own.Length == 0)
            return (null, $"{ErrorList.Quote(name.Module)} is no oscillator of this voice", NearName.Mend(name.Module, modules));
        Member? place = member is null ? own[0] : own.FirstOrDefault(one => one.Name == member);
        return place is null
            ? (null, $"{ErrorList.Quote(member!)} is no member of module {name.Module}", NearName.Mend(member!, [.. own.Select(one => one.Name)]))
            : (new(name, place, place.Module.Pitch!), null, null);
    }

    /// <summary>A module's word in a unit's name: its file, without folder and ending.</summary>
    public static string ModuleOf(Member member) => Path.GetFileNameWithoutExtension(member.Module.At.File);
}
