using Consort.Engine.Design;

namespace Consort.Workbench.Session;

/// <summary>What was done and can be taken back, in order.</summary>
internal sealed class EditHistory
{
    private const int Longest = 10_000; // steps; a day's work is some hundreds

    private readonly LinkedList<TextEdit[]> done = [];
    private readonly Stack<TextEdit[]> undone = [];

    /// <summary>Steps that can be taken back.</summary>
    public int Undoable => done.Count;

    /// <summary>Steps that were taken back.</summary>
    public int Redoable => undone.Count;

    /// <summary>Notes the step from some texts to others.</summary>
    public void Note(DesignTexts before, DesignTexts after)
    {
        undone.Clear();
        done.AddLast([.. after.Files.Where(file => file.Value is not null && before.Find(file.Key) is { } old && old.Text != file.Value.Text)
            .Select(file => TextEdit.Between(file.Key, before.Find(file.Key)!.Text, file.Value!.Text))]);
        if (done.Count > Longest)
            done.RemoveFirst();
    }

    /// <summary>The texts before the last step; the same when there is none.</summary>
    public DesignTexts Undo(DesignTexts texts)
    {
        if (done.Last is not { } last)
            return texts;
        done.RemoveLast();
        undone.Push(last.Value);
        return last.Value.Reverse().Aggregate(texts, (now, edit) => edit.Back().On(now));
    }

    /// <summary>The texts after the step that was last taken back.</summary>
    public DesignTexts Redo(DesignTexts texts)
    {
        if (!undone.TryPop(out TextEdit[]? edits))
            return texts;
        done.AddLast(edits);
        return edits.Aggregate(texts, (now, edit) => edit.On(now));
    }
}
