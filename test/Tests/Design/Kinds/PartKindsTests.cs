using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design.Kinds;

public sealed class PartKindsTests
{
    [Fact]
    public void Every_kind_is_whole()
    {
        Assert.All(
            PartKinds.All,
            kind =>
            {
                Assert.DoesNotContain(null, kind.Parameters);
                Assert.DoesNotContain(null, kind.Texts);
                Assert.NotEmpty(kind.Source);
                IEnumerable<string> words =
                [
                    .. kind.Parameters.Select(parameter => parameter.Word),
                    .. kind.Terminals.Select(terminal => terminal.Word),
                ];
                Assert.Equal(words.Count(), words.Distinct().Count());
            }
        );
    }

    [Fact]
    public void Every_kind_is_found_by_its_word() =>
        Assert.All(PartKinds.All, kind => Assert.Same(kind, PartKinds.Find(kind.Word)));
}
