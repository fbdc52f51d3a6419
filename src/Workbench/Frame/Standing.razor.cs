namespace Consort.Workbench.Frame;

/// <summary>How the voice stands, how sure that is, and what is being computed.</summary>
public sealed partial class Standing
{
    /// <inheritdoc/>
    protected override bool ShowsProgress => true;
}
