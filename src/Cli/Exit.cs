namespace Consort.Cli;

/// <summary>Exit codes.</summary>
internal static class Exit
{
    /// <summary>Done; in a proof every claim passes.</summary>
    public const int Done = 0;

    /// <summary>A limit is missed.</summary>
    public const int LimitMissed = 1;

    /// <summary>Bad input: arguments, files, or what stands in them.</summary>
    public const int BadInput = 2;

    /// <summary>The input is sound, and still no result could be computed.</summary>
    public const int NotComputed = 3;

    /// <summary>Stopped by Ctrl-C, as shells count it.</summary>
    public const int Stopped = 130;
}
