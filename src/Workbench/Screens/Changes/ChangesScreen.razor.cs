namespace Consort.Workbench.Screens.Changes;

/// <summary>What is changed and not saved: shown before it is written.</summary>
public sealed partial class ChangesScreen
{
    private IEnumerable<string> Files => State.Unsaved;

    private void Save() => Session.Save();
}
