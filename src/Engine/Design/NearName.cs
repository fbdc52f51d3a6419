namespace Consort.Engine.Design;

/// <summary>Finds the name that was most likely meant.</summary>
public static class NearName
{
    /// <summary>The known name nearest to what was written; null when none is near. Near is one slip in three letters:
    /// a letter more, less or other, or two neighbours exchanged.</summary>
    public static string? Of(string written, IEnumerable<string> known)
    {
        if (written.Length is 0 or > 80)
            return null;
        string? best = null;
        int least = Math.Max(1, written.Length / 3) + 1;
        foreach (string name in known)
        {
            if (Math.Abs(name.Length - written.Length) >= least)
                continue;
            int distance = Distance(written.ToLowerInvariant(), name.ToLowerInvariant());
            if (distance < least && name != written)
                (best, least) = (name, distance);
        }
        return best;
    }

    /// <summary>A mend: the near name when there is one, else the list of known ones.</summary>
    public static string Mend(string written, IReadOnlyCollection<string> known) =>
        Of(written, known) is { } near ? $"did you mean '{near}'?"
        : known.Count is > 0 and <= 12 ? $"known here: {string.Join(", ", known)}"
        : "see the list of words in docs/design-folder.md";

    /// <summary>Slips between two words: Damerau 1964, the restricted form.</summary>
    public static int Distance(string a, string b)
    {
        int[,] d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
            d[i, 0] = i;
        for (int j = 0; j <= b.Length; j++)
            d[0, j] = j;
        for (int i = 1; i <= a.Length; i++)
            for (int j = 1; j <= b.Length; j++)
            {
                int change = a[i - 1] == b[j - 1] ? 0 : 1;
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + change);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }
        return d[a.Length, b.Length];
    }
}
