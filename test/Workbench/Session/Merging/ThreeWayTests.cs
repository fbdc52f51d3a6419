using Consort.Workbench.Session.Merging;
using Xunit;

namespace Consort.Workbench.Tests.Session.Merging;

public sealed class ThreeWayTests
{
    [Fact]
    public void The_papers_example_takes_five_changes()
    {
        // Myers 1986, figure 1: ABCABBA into CBABAC, shortest edit script D = 5.
        IReadOnlyList<Hunk> hunks = LineDiff.Between(["A", "B", "C", "A", "B", "B", "A"], ["C", "B", "A", "B", "A", "C"]);
        Assert.Equal(5, hunks.Sum(hunk => hunk.OldCount + hunk.NewCount));
    }

    [Fact]
    public void Changes_make_the_new_text_of_the_old_one_whatever_the_texts()
    {
        Random random = new(7);
        for (int round = 0; round < 2000; round++)
        {
            string[] before = [.. Enumerable.Range(0, random.Next(12)).Select(_ => $"{random.Next(4)}\n")];
            string[] after = [.. Enumerable.Range(0, random.Next(12)).Select(_ => $"{random.Next(4)}\n")];
            List<string> made = [];
            int at = 0;
            foreach (Hunk hunk in LineDiff.Between(before, after))
            {
                made.AddRange(before[at..hunk.OldStart]);
                Assert.Equal(made.Count, hunk.NewStart);
                made.AddRange(after[hunk.NewStart..(hunk.NewStart + hunk.NewCount)]);
                at = hunk.OldEnd;
            }
            made.AddRange(before[at..]);
            Assert.Equal(after, made);
        }
    }

    [Theory]
    [InlineData("1\n2\n3\n4\n5\n", "1\nb\n3\n4\n5\n", "1\n2\n3\n4\ne\n", "1\nb\n3\n4\ne\n")] // apart
    [InlineData("1\n2\n3\n", "1\nb\n3\n", "1\nb\n3\n", "1\nb\n3\n")] // alike
    [InlineData("1\n2\n3\n", "1\nb\n3\n", "1\nc\n3\n", null)] // the same line
    [InlineData("1\n2\n3\n", "1\nb\n3\n", "1\n2\nc\n", null)] // lines that touch
    [InlineData("1\n2\n", "1\n2\n3\n", "1\n2\n4\n", null)] // both at the end
    [InlineData("1\n2\n3\n4\n", "2\n3\n4\n", "1\n2\n3\n4\n5\n", "2\n3\n4\n5\n")]
    [InlineData("", "1\n", "", "1\n")]
    [InlineData("1", "1\n2", "1", "1\n2")] // no end at the last line
    public void Texts_are_put_together_where_their_changes_lie_apart(string origin, string mine, string theirs, string? merged)
    {
        Assert.Equal(merged, ThreeWay.Merge(origin, mine, theirs));
        Assert.Equal(merged, ThreeWay.Merge(origin, theirs, mine));
    }
}
