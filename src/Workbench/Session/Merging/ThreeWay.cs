using System.Text;

namespace Consort.Workbench.Session.Merging;

/// <summary>Two texts that came from one, put together where their changes lie apart.</summary>
public static class ThreeWay
{
    /// <summary>The text with the changes of both; null when both changed the same lines, or lines that touch, in different
    /// ways: then a person has to choose.</summary>
    /// <param name="origin">What both came from.</param>
    public static string? Merge(string origin, string mine, string theirs)
    {
        string[] old = LineDiff.Lines(origin), left = LineDiff.Lines(mine), right = LineDiff.Lines(theirs);
        List<(Hunk Hunk, string Text)> changes = [.. Changes(old, left), .. Changes(old, right)];
        changes.Sort((a, b) => (a.Hunk.OldStart, a.Hunk.OldEnd).CompareTo((b.Hunk.OldStart, b.Hunk.OldEnd)));
        StringBuilder merged = new();
        int at = 0;
        (Hunk Hunk, string Text)? last = null;
        foreach ((Hunk hunk, string text) in changes)
        {
            if (last is { } before && hunk.OldStart <= before.Hunk.OldEnd)
            {
                bool isSame = hunk.OldStart == before.Hunk.OldStart && hunk.OldCount == before.Hunk.OldCount && text == before.Text;
                if (!isSame)
                    return null;
                continue; // both made the same change
            }
            merged.AppendJoin("", old[at..hunk.OldStart]).Append(text);
            at = hunk.OldEnd;
            last = (hunk, text);
        }
        return merged.AppendJoin("", old[at..]).ToString();
    }

    private static IEnumerable<(Hunk, string)> Changes(string[] old, string[] fresh) =>
        LineDiff.Between(old, fresh).Select(hunk => (hunk, string.Concat(fresh[hunk.NewStart..(hunk.NewStart + hunk.NewCount)])));
}
