using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Workbench.Session.Merging;

namespace Consort.Workbench.Session;

/// <summary>Texts and disk: saving, and what others change there meanwhile.</summary>
public sealed partial class VoiceSession
{
    private static readonly TimeSpan Second = TimeSpan.FromSeconds(1);

    private string stamp;

    /// <summary>Writes every changed file whole in its place. What changed on disk meanwhile is put together with it first.</summary>
    /// <returns>Why something could not be saved; null when all was.</returns>
    public string? Save()
    {
        LookAtDisk();
        lock (gate)
        {
            if (State.Conflicts.Length > 0)
                return "a file was changed here and on disk: choose first which one stays";
            string[] unsaved = [.. State.Unsaved];
            string? refusal = unsaved.Select(Write).FirstOrDefault(reason => reason is not null);
            stamp = files.Stamp();
            recovery.Keep(State.Saved, State.Texts);
            State = State with { News = refusal ?? (unsaved.Length == 0 ? null : $"Saved: {string.Join(", ", unsaved)}.") };
            Announce();
            return refusal;
        }
    }

    /// <summary>Takes in what others changed on disk, when anything did.</summary>
    public void LookAtDisk()
    {
        lock (gate)
        {
            string now = files.Stamp();
            if (now == stamp || closed.IsCancellationRequested)
                return;
            stamp = now;
            TakeIn(files.Read());
        }
    }

    /// <summary>Ends a conflict.</summary>
    /// <param name="keepOwn">True: the text here stays and will be written over the other. False: the text on disk takes its
    /// place, and undo brings the own one back.</param>
    public void Resolve(string file, bool keepOwn)
    {
        lock (gate)
        {
            if (State.Conflicts.FirstOrDefault(one => one.File == file) is not { } conflict)
                return;
            State = State with { Saved = State.Saved.With(conflict.OnDisk), Conflicts = State.Conflicts.Remove(conflict) };
            if (keepOwn)
                Renew(State.Texts, $"{file}: the text here stays. Saving writes it over the one on disk.");
            else
                Take(State.Texts.With(conflict.OnDisk), $"{file}: taken from disk. Undo brings the text back that stood here.");
        }
    }

    private string? Write(string file)
    {
        try
        {
            SourceText text = State.Texts.Find(file)!;
            files.Write(text);
            State = State with { Saved = State.Saved.With(text) };
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return $"{file} could not be saved: {e.Message}. The changes stay here.";
        }
    }

    private void TakeIn(DesignTexts disk)
    {
        List<string> taken = [], merged = [];
        List<DiskConflict> conflicts = [];
        Dictionary<string, SourceText?> texts = [];
        Dictionary<string, SourceText?> saved = [];
        foreach (string file in disk.Files.Keys.Union(State.Texts.Files.Keys))
        {
            SourceText? origin = State.Saved.Find(file), mine = State.Texts.Find(file), theirs = disk.Find(file);
            (texts[file], saved[file]) = (mine, theirs);
            if (theirs?.Text == origin?.Text || theirs?.Text == mine?.Text)
                continue;
            if (mine?.Text == origin?.Text)
                (texts[file], _) = (theirs, Note(taken, file));
            else if (mine is not null && theirs is not null && ThreeWay.Merge(origin?.Text ?? "", mine.Text, theirs.Text) is { } both)
                (texts[file], _) = (TextEdit.Renewed(theirs, both), Note(merged, file));
            else if (mine is not null && theirs is not null)
                (saved[file], _) = (origin, Note(conflicts, new(file, theirs)));
        }
        State = State with { Saved = DesignTexts.Of(Present(saved, disk), disk.Unread), Conflicts = [.. conflicts] };
        DesignTexts fresh = DesignTexts.Of(Present(texts, disk), disk.Unread);
        string? news = Told(taken, merged, conflicts);
        if (news is null)
            return;
        history.Note(State.Texts, fresh);
        Renew(fresh, news);
    }

    // Files that are neither here nor there are gone; those that cannot be read stay known as such.
    private static IEnumerable<KeyValuePair<string, SourceText?>> Present(Dictionary<string, SourceText?> texts, DesignTexts disk) =>
        texts.Where(file => file.Value is not null || disk.Holds(file.Key));

    private static bool Note<T>(List<T> list, T item)
    {
        list.Add(item);
        return true;
    }

    private static string? Told(List<string> taken, List<string> merged, List<DiskConflict> conflicts)
    {
        string[] sentences =
        [
            .. taken.Count > 0 ? [$"Changed on disk and taken in: {string.Join(", ", taken)}."] : Array.Empty<string>(),
            .. merged.Count > 0 ? [$"Changed on disk and put together with the changes here: {string.Join(", ", merged)}. Undo takes the other's changes out."] : Array.Empty<string>(),
            .. conflicts.Count > 0 ? [$"Changed on disk in the same lines as here: {string.Join(", ", conflicts.Select(one => one.File))}."] : Array.Empty<string>(),
        ];
        return sentences.Length == 0 ? null : string.Join(' ', sentences);
    }

    // Changes of a run that ended before it saved them.
    private void BringBack()
    {
        DesignTexts texts = State.Texts;
        foreach (Recovery.Kept kept in recovery.Left())
            if (texts.Find(kept.File) is { } present && ThreeWay.Merge(kept.From, kept.To, present.Text) is { } both)
                texts = texts.With(TextEdit.Renewed(present, both));
        Take(texts, "Changes of a run that ended before it saved them were brought back. Undo takes them out.");
    }
}
