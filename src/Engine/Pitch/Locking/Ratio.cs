namespace Consort.Engine.Pitch.Locking;

/// <summary>A ratio of whole numbers in which two oscillators can hold each other: so many periods of the second in so many of
/// the first.</summary>
public readonly record struct Ratio(int Second, int First)
{
    /// <summary>1:1.</summary>
    public static Ratio Unison { get; } = new(1, 1);

    /// <summary>Those that are looked at. Beyond them what couples has high harmonics of both left, and ranges are narrower
    /// still.</summary>
    public static IReadOnlyList<Ratio> Looked { get; } =
        [Unison, new(2, 1), new(1, 2), new(3, 1), new(1, 3), new(4, 1), new(1, 4), new(3, 2), new(2, 3), new(4, 3), new(3, 4)];

    /// <summary>What lies farther than this from all of them is not looked at, cents.</summary>
    public const double Near = 100;

    /// <summary>The second's pitch above the first's, cents.</summary>
    public double Cents => 1200 * Math.Log2((double)Second / First);

    /// <summary>The ratio that an interval lies near; null where none is.</summary>
    public static Ratio? Of(double cents)
    {
        Ratio nearest = Looked.MinBy(ratio => Math.Abs(cents - ratio.Cents));
        return Math.Abs(cents - nearest.Cents) < Near ? nearest : null;
    }

    /// <summary>As <c>3:2</c>.</summary>
    public override string ToString() => $"{Second}:{First}";
}
