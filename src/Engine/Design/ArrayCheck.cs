using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Checks the arrays of a circuit: members that depart together.</summary>
internal static class ArrayCheck
{
    /// <summary>Reports what does not fit together.</summary>
    public static void Run(ImmutableArray<Part> parts, ErrorList errors)
    {
        foreach (Part part in parts.Where(part => part.Texts.ContainsKey("array")))
            CheckWords(part, errors);
        foreach (IGrouping<string, Part> array in parts.Where(part => NameOf(part).Length > 0).GroupBy(NameOf))
            CheckMembers(array.Key, [.. array], errors);
    }

    private static string NameOf(Part part) => part.Texts.GetValueOrDefault("array") ?? "";

    private static void CheckWords(Part part, ErrorList errors)
    {
        bool isMember = NameOf(part).Length > 0;
        bool hasMatch = part.Written.Contains("array match");
        if (isMember && !hasMatch)
            errors.Add(ErrorCodes.ArrayWords, part.At, $"{part.Name} is one of the array {ErrorList.Quote(NameOf(part))} and does not say how well it matches",
                "add 'array match: 0.05%' (the data sheet's ratio tolerance)");
        if (!isMember && (hasMatch || part.Written.Contains("array drift match")))
            errors.Add(ErrorCodes.ArrayWords, part.At, $"{part.Name} matches the members of no array", "add 'array: RN1', the same word in every member");
    }

    private static void CheckMembers(string array, Part[] members, ErrorList errors)
    {
        if (members.Length == 1)
            errors.Add(ErrorCodes.ArrayMembers, members[0].At, $"{members[0].Name} is the only member of the array {ErrorList.Quote(array)}",
                "name the same array in the others, or leave 'array' out");
        foreach (Part member in members.Skip(1).Where(member => member.Written.Contains("array match")))
            if (Differing(members[0], member) is { } word)
                errors.Add(ErrorCodes.ArrayMembers, member.At, $"{member.Name} and {members[0].Name} are of one array and differ in {word}",
                    "parts that are made together have one kind, tolerance, drift, match and spread");
    }

    private static string? Differing(Part one, Part other)
    {
        if (one.Kind != other.Kind)
            return "kind";
        foreach (string word in (string[])["tolerance", "drift", "array match", "array drift match", "sigmas"])
            if (one.Number(word) != other.Number(word))
                return $"'{word}'";
        return one.Texts["spread"] == other.Texts["spread"] ? null : "'spread'";
    }
}
