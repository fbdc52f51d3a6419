using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests;

/// <summary>Tests on a workbench of an example, computing for itself, on a folder of each test's own.</summary>
public abstract class LiveExample(string example) : IAsyncLifetime
{
    /// <summary>The folder.</summary>
    internal OwnCopy Copy { get; } = new(example);

    /// <summary>The workbench.</summary>
    protected WorkbenchHost Workbench { get; private set; } = null!;

    public async ValueTask InitializeAsync() =>
        Workbench = await WorkbenchHost.Open(Copy.Path, 0, new LiveEngine(Environment.ProcessorCount), new ClosedFolder(Path.Combine(Copy.Path, "..", "data")));

    public async ValueTask DisposeAsync()
    {
        await Workbench.DisposeAsync();
        Copy.Dispose();
        GC.SuppressFinalize(this);
    }
}
