using Microsoft.AspNetCore.Components.Web;

namespace Consort.Workbench.Frame;

/// <summary>The page around everything. Nothing is rendered before the tab is live: a field that took keys earlier would
/// lose them.</summary>
public partial class App
{
    private static InteractiveServerRenderMode Live { get; } = new(prerender: false);
}
