using Consort.Workbench.Folder;
using Consort.Workbench.Session;
using Consort.Workbench.Tests.Session;
using Xunit;

namespace Consort.Workbench.Tests.Folder;

public sealed class ClosedFolderTests : IDisposable
{
    private readonly OwnCopy copy = new("pair");

    public void Dispose() => copy.Dispose();

    [Fact]
    public void A_file_of_the_folder_is_found_whether_it_is_there_or_not()
    {
        ClosedFolder folder = new(copy.Path);
        Assert.Equal(copy.At("voice.yaml"), folder.Find("voice.yaml").Place);
        Assert.Equal(copy.At("modules/new.yaml"), folder.Find("modules/new.yaml").Place);
    }

    [Fact]
    public void A_folder_that_is_a_link_itself_stands_for_the_place_that_it_leads_to()
    {
        string link = copy.Path + "-link";
        Directory.CreateSymbolicLink(link, copy.Path);
        Assert.Equal(copy.At("voice.yaml"), new ClosedFolder(link).Find("voice.yaml").Place);
    }

    [Theory]
    [InlineData("voice.yaml")] // a file
    [InlineData("modules/pair-lead.yaml")] // a file below
    public void A_file_that_is_a_link_is_neither_found_read_nor_written(string name)
    {
        string outside = Path.Combine(copy.Path, "..", "outside.yaml");
        File.Move(copy.At(name), outside);
        File.CreateSymbolicLink(copy.At(name), outside);
        Assert.Contains("symbolic link", new ClosedFolder(copy.Path).Find(name).Refusal, StringComparison.Ordinal);
        using VoiceSession session = new(new ClosedFolder(copy.Path), new SilentEngine(), new ClosedFolder(Path.Combine(copy.Path, "..", "data")), TimeProvider.System);
        Assert.Null(session.State.Design);
        Assert.Contains(session.State.Errors, error => error.What.Contains("symbolic link", StringComparison.Ordinal) && error.At.File == name);
        Assert.Null(session.State.Texts.Find(name));
    }

    [Fact]
    public void A_folder_of_modules_that_is_a_link_is_not_read()
    {
        string outside = Path.Combine(copy.Path, "..", "outside");
        Directory.Move(copy.At("modules"), outside);
        Directory.CreateSymbolicLink(copy.At("modules"), outside);
        using VoiceSession session = new(new ClosedFolder(copy.Path), new SilentEngine(), new ClosedFolder(Path.Combine(copy.Path, "..", "data")), TimeProvider.System);
        Assert.Null(session.State.Design);
        Assert.DoesNotContain(session.State.Texts.Files.Keys, file => file.StartsWith("modules/", StringComparison.Ordinal));
        Assert.Contains("symbolic link", new ClosedFolder(copy.Path).Find("modules/pair-lead.yaml").Refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void A_link_to_nowhere_is_refused_too()
    {
        File.CreateSymbolicLink(copy.At("later.yaml"), "/nowhere/at/all");
        Assert.NotNull(new ClosedFolder(copy.Path).Find("later.yaml").Refusal);
    }
}
