using System.Text.Json;
using Consort.Cli;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class PackVerbTests
{
    private static readonly string Shoestring = Path.Combine(Golden.Root, "examples", "shoestring");

    [Fact]
    public async Task A_pack_is_a_folder_and_a_zip_and_may_be_made_again_in_its_place()
    {
        DirectoryInfo place = Directory.CreateTempSubdirectory("consort-");
        try
        {
            string into = Path.Combine(place.FullName, "a pack");
            Call first = await Call.Of("pack", Shoestring, "--out", into, "--json");
            Assert.Equal(Exit.Done, first.Code);
            JsonElement json = JsonDocument.Parse(first.Output).RootElement;
            Assert.Equal(("consort pack", 1), (json.GetProperty("shape").GetString(), json.GetProperty("version").GetInt32()));
            JsonPage.Names(json);
            foreach (JsonElement file in json.GetProperty("files").EnumerateArray())
                Assert.Equal(file.GetProperty("bytes").GetInt64(), new FileInfo(Path.Combine(into, file.GetProperty("name").GetString()!)).Length);
            byte[] zip = await File.ReadAllBytesAsync(into + ".zip", TestContext.Current.CancellationToken);
            await File.WriteAllTextAsync(Path.Combine(into, "left over.txt"), "", TestContext.Current.CancellationToken);
            Call again = await Call.Of("pack", Shoestring, "--out", into + ".zip"); // who names the zip means the same
            Assert.Equal(Exit.Done, again.Code);
            Assert.Contains("guide.pdf", again.Output, StringComparison.Ordinal);
            Assert.False(File.Exists(Path.Combine(into, "left over.txt")));
            Assert.Equal(zip, await File.ReadAllBytesAsync(into + ".zip", TestContext.Current.CancellationToken));
            Assert.Equal(2, place.GetFileSystemInfos().Length);
        }
        finally
        {
            place.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task A_folder_that_is_no_pack_is_left_alone()
    {
        DirectoryInfo place = Directory.CreateTempSubdirectory("consort-");
        try
        {
            await File.WriteAllTextAsync(Path.Combine(place.FullName, "letters.txt"), "dear", TestContext.Current.CancellationToken);
            Call call = await Call.Of("pack", Shoestring, "--out", place.FullName);
            Assert.Equal((Exit.BadInput, ""), (call.Code, call.Output));
            Assert.Contains("mend: name another folder", call.Error, StringComparison.Ordinal);
            Assert.True(File.Exists(Path.Combine(place.FullName, "letters.txt")));
        }
        finally
        {
            place.Delete(recursive: true);
        }
    }
}
