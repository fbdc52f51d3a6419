using System.Collections.Immutable;
using System.Reflection;

namespace Consort.Engine.Design;

/// <summary>Every kind of mistake in the input, by subject in the files ErrorCodes.*.cs. docs/errors.md is written from
/// this table.</summary>
public static partial class ErrorCodes
{
    // Found when first asked for: fields are set file by file in no certain order, and those of a later file would be
    // missed now.
    private static readonly Lazy<ImmutableArray<ErrorCode>> Found = new(() =>
        [
            .. typeof(ErrorCodes)
                .GetFields(BindingFlags.Public | BindingFlags.Static)
                .Select(field => field.GetValue(null))
                .OfType<ErrorCode>()
                .OrderBy(code => code.Code, StringComparer.Ordinal),
        ]);

    /// <summary>All codes, in order.</summary>
    public static ImmutableArray<ErrorCode> All => Found.Value;

    /// <summary>docs/errors.md, whole.</summary>
    public static string ToMarkdown() =>
        "# What do the error codes mean?\n\n"
        + "Every mistake in a design folder is reported in one run, with its place, the source line and how to mend it.\n"
        + "A code keeps its meaning for good. This page is written by the program from its own table.\n\n"
        + "| code | mistake | why, and what to do |\n|---|---|---|\n"
        + string.Concat(All.Select(code => $"| {code.Code} | {code.Title} | {code.Why} |\n"));
}
