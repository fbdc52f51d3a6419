using Consort.Engine.Pitch.Locking;
using Xunit;

namespace Consort.Tests.Pitch.Locking;

public sealed class KnownEndsTests
{
    private static PairLock Pair(double width, Ratio ratio, double hertz = 440) => new("a", "b", 0, hertz, 3, [.. Enumerable.Range(0, 256).Select(i => 0.5 * width * Math.Sin(2 * Math.PI * i / 256))], 0, []) { Ratio = ratio };

    private static Ratio Octave => Ratio.Looked.First(ratio => ratio.Second == 2 && ratio.First == 1);

    [Fact]
    public void A_range_is_known_as_nearly_as_one_as_wide_was_found_in_a_whole_circuit()
    {
        Assert.Equal(0.1, KnownEnds.Within(Pair(60, Ratio.Unison)));
        Assert.Null(KnownEnds.Within(Pair(70, Ratio.Unison)));
        Assert.Equal(0.1, KnownEnds.Within(Pair(7, Octave)));
        Assert.Equal(0.2, KnownEnds.Within(Pair(30, Octave)));
        Assert.Null(KnownEnds.Within(Pair(40, Octave)));
    }

    [Fact]
    public void A_narrow_range_at_a_low_note_is_known_less_nearly()
    {
        // The pair's at 65 Hz is 23 % wider in the whole circuit; at 131 Hz a thousandth.
        Assert.Equal(0.25, KnownEnds.Within(Pair(0.01, Ratio.Unison, 65)));
        Assert.Equal(0.1, KnownEnds.Within(Pair(0.01, Ratio.Unison, 131)));
        Assert.Equal(0.1, KnownEnds.Within(Pair(20, Ratio.Unison, 65)));
        string words = Assert.Single(KnownEnds.Words(new("toy", 298.15, [Pair(0.01, Ratio.Unison, 65), Pair(0.01, Ratio.Unison, 131)], [], 0, 0)));
        Assert.Contains("below 100 Hz", words, StringComparison.Ordinal);
        Assert.Contains("25 % wider", words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sheet_says_so_only_where_a_range_is_wide()
    {
        IEnumerable<string> Words(params PairLock[] pairs) => KnownEnds.Words(new("toy", 298.15, [.. pairs], [], 0, 0));
        Assert.Empty(Words(Pair(16, Ratio.Unison), Pair(1, Octave)));
        Assert.Contains("20 % of half their width", Assert.Single(Words(Pair(30, Octave))), StringComparison.Ordinal);
        Assert.Contains("order of size", Assert.Single(Words(Pair(90, Ratio.Unison))), StringComparison.Ordinal);
    }
}
