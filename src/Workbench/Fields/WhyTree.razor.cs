using Consort.Engine.Pitch;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Fields;

/// <summary>The chain from a figure down to parts, as <c>prove --why</c> prints it.</summary>
public sealed partial class WhyTree
{
    [Parameter, EditorRequired]
    public Reason Reason { get; set; } = null!;
}
