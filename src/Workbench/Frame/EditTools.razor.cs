namespace Consort.Workbench.Frame;

/// <summary>Undo, redo, what will be saved, save.</summary>
public sealed partial class EditTools
{
    private int Unsaved => State.Unsaved.Count();
}
