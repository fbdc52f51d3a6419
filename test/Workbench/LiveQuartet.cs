using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests;

/// <summary>Tests on a workbench of the quartet, computing for itself, on a folder of each test's own.</summary>
public abstract class LiveQuartet : IAsyncLifetime
{
    private readonly OwnCopy copy = new("quartet");

    /// <summary>The workbench.</summary>
    protected WorkbenchHost Workbench { get; private set; } = null!;

    public async ValueTask InitializeAsync() =>
        Workbench = await WorkbenchHost.Open(copy.Path, 0, new LiveEngine(Environment.ProcessorCount), new ClosedFolder(Path.Combine(copy.Path, "..", "data")));

    public async ValueTask DisposeAsync()
    {
        await Workbench.DisposeAsync();
        copy.Dispose();
        GC.SuppressFinalize(this);
    }
}
