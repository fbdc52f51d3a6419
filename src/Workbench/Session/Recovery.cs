using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Consort.Engine.Design;
using Consort.Workbench.Folder;

namespace Consort.Workbench.Session;

/// <summary>Changes that are not saved yet, kept in the program's own data folder: a run that is killed loses none of them.
/// </summary>
/// <param name="data">The program's data folder.</param>
/// <param name="voiceFolder">The open folder; each has a file of its own.</param>
internal sealed class Recovery(ClosedFolder data, string voiceFolder)
{
    private readonly string name = $"unsaved/{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(voiceFolder)))[..24]}.json";

    /// <summary>One changed file: the text on disk that was changed, and the text that it was changed to.</summary>
    internal sealed record Kept(string File, string From, string To);

    /// <summary>Keeps what differs from the saved texts; when nothing does, keeps nothing.</summary>
    /// <returns>Why it could not be kept; null when it is.</returns>
    public string? Keep(DesignTexts saved, DesignTexts texts)
    {
        Kept[] changed = [.. texts.Files.Where(file => file.Value is not null && saved.Find(file.Key)?.Text != file.Value.Text)
            .Select(file => new Kept(file.Key, saved.Find(file.Key)?.Text ?? "", file.Value!.Text))];
        try
        {
            string place = Place();
            if (changed.Length == 0)
                File.Delete(place);
            else
                WholeFile.Write(place, JsonSerializer.SerializeToUtf8Bytes(changed));
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return $"changes are not kept against a crash: {e.Message}";
        }
    }

    /// <summary>What a run that ended before it saved has left.</summary>
    public IReadOnlyList<Kept> Left()
    {
        try
        {
            string place = Place();
            return File.Exists(place) ? JsonSerializer.Deserialize<Kept[]>(File.ReadAllBytes(place)) ?? [] : [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return [];
        }
    }

    private string Place()
    {
        (string? place, string? refusal) = data.Find(name);
        if (place is null)
            throw new IOException(refusal);
        Directory.CreateDirectory(Path.GetDirectoryName(place)!);
        return place;
    }
}
