namespace Consort.Workbench.Session.Merging;

/// <summary>Lines that one text has in another's place.</summary>
/// <param name="OldStart">First line of the old text, from 0.</param>
/// <param name="OldCount">Lines that go.</param>
/// <param name="NewStart">First line of the new text, from 0.</param>
/// <param name="NewCount">Lines that come.</param>
public readonly record struct Hunk(int OldStart, int OldCount, int NewStart, int NewCount)
{
    /// <summary>The line after the last that goes.</summary>
    public int OldEnd => OldStart + OldCount;
}

/// <summary>What changed between two texts, by lines: the fewest that must go and come (E. W. Myers, An O(ND) difference
/// algorithm and its variations, Algorithmica 1 (1986) 251).</summary>
public static class LineDiff
{
    private const int MostChanges = 2000; // past this all between the first and the last change counts as one

    /// <summary>A text's lines, each with its end.</summary>
    public static string[] Lines(string text)
    {
        List<string> lines = [];
        int start = 0;
        for (int i = 0; i < text.Length; i++)
            if (text[i] == '\n')
            {
                lines.Add(text[start..(i + 1)]);
                start = i + 1;
            }
        if (start < text.Length)
            lines.Add(text[start..]);
        return [.. lines];
    }

    /// <summary>The changes from one text to another, in order.</summary>
    public static IReadOnlyList<Hunk> Between(string[] before, string[] after)
    {
        int head = before.AsSpan().CommonPrefixLength(after);
        int tail = 0, most = Math.Min(before.Length, after.Length) - head;
        while (tail < most && before[^(tail + 1)] == after[^(tail + 1)])
            tail++;
        string[] old = before[head..^tail], fresh = after[head..^tail];
        if (old.Length == 0 && fresh.Length == 0)
            return [];
        return Trace(old, fresh) is { } trace ? Hunks(trace, old.Length, fresh.Length, head) : [new(head, old.Length, head, fresh.Length)];
    }

    // For each number of changes the furthest line reached on every diagonal, as the paper's V.
    private static List<int[]>? Trace(string[] old, string[] fresh)
    {
        int most = Math.Min(old.Length + fresh.Length, MostChanges);
        int[] reach = new int[2 * most + 3];
        List<int[]> trace = [];
        for (int d = 0; d <= most; d++)
        {
            trace.Add(reach[(most + 1 - d - 1)..(most + 1 + d + 2)]);
            for (int k = -d; k <= d; k += 2)
            {
                int at = most + 1 + k;
                int x = k == -d || (k != d && reach[at - 1] < reach[at + 1]) ? reach[at + 1] : reach[at - 1] + 1;
                while (x < old.Length && x - k < fresh.Length && old[x] == fresh[x - k])
                    x++;
                reach[at] = x;
                if (x >= old.Length && x - k >= fresh.Length)
                    return trace;
            }
        }
        return null;
    }

    private static List<Hunk> Hunks(List<int[]> trace, int x, int y, int head)
    {
        List<Hunk> hunks = [];
        for (int d = trace.Count - 1; d > 0; d--)
        {
            int k = x - y, middle = d + 1;
            bool isInsert = k == -d || (k != d && trace[d][middle + k - 1] < trace[d][middle + k + 1]);
            int before = isInsert ? k + 1 : k - 1;
            int oldX = trace[d][middle + before], oldY = oldX - before;
            Add(hunks, isInsert ? new(oldX + head, 0, oldY + head, 1) : new(oldX + head, 1, oldY + head, 0));
            (x, y) = (oldX, oldY);
        }
        hunks.Reverse();
        return hunks;
    }

    // Steps come from the last to the first; those that touch are one change.
    private static void Add(List<Hunk> hunks, Hunk step)
    {
        if (hunks.Count > 0 && hunks[^1] is var next && step.OldEnd == next.OldStart && step.NewStart + step.NewCount == next.NewStart)
            hunks[^1] = new(step.OldStart, step.OldCount + next.OldCount, step.NewStart, step.NewCount + next.NewCount);
        else
            hunks.Add(step);
    }
}
