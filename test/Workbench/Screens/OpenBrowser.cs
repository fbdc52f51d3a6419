using System.Text.Json;
using Consort.Cli;
using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Session;
using Consort.Workbench.Tests.Screens;
using Microsoft.Playwright;
using Xunit;

[assembly: AssemblyFixture(typeof(OpenBrowser))]

namespace Consort.Workbench.Tests.Screens;

/// <summary>One browser and one workbench for all tests of screens: the proof of a voice takes seconds.</summary>
public sealed class OpenBrowser : IAsyncLifetime
{
    private const string Chromium = "/usr/bin/chromium";

    private readonly SemaphoreSlim once = new(1);
    private readonly OwnCopy copy = new("pair");
    private IPlaywright? driver;
    private IBrowser? browser;
    private WorkbenchHost? workbench;
    private Task<JsonElement>? proof;

    /// <summary>The open folder.</summary>
    internal OwnCopy Copy => copy;

    internal VoiceSession Session => workbench!.Session;

    /// <summary>Its address.</summary>
    internal string Address => workbench!.Address;

    /// <summary>What the command line prints of the folder as the example has it.</summary>
    internal Task<JsonElement> Proof => proof!;

    public ValueTask InitializeAsync() => default; // a run of other tests needs none of it

    /// <summary>A page of the workbench, proved; it fails on anything that the browser complains about.</summary>
    internal async Task<WatchedPage> Page(string path, ColorScheme scheme = ColorScheme.Light, int width = 1280, int height = 800)
    {
        await Begin();
        IBrowserContext context = await browser!.NewContextAsync(new() { ViewportSize = new() { Width = width, Height = height }, ColorScheme = scheme, AcceptDownloads = true });
        WatchedPage page = new(await context.NewPageAsync());
        await page.Page.GotoAsync(Address + path);
        await page.Page.WaitForSelectorAsync("main h1");
        return page;
    }

    /// <summary>A browser alone, for a workbench of one's own.</summary>
    internal async Task<WatchedPage> Elsewhere(string address)
    {
        await Begin();
        IBrowserContext context = await browser!.NewContextAsync();
        WatchedPage page = new(await context.NewPageAsync());
        await page.Page.GotoAsync(address);
        await page.Page.WaitForSelectorAsync("main h1");
        return page;
    }

    /// <summary>Prints as the command line does.</summary>
    internal static async Task<JsonElement> Json(params string[] arguments)
    {
        StringWriter output = new(), error = new();
        await CommandLine.Run([.. arguments, "--json"], new(output, error, Screen.PlainWidth, IsColoured: false, ShowsProgress: false));
        Assert.Equal("", error.ToString());
        return JsonDocument.Parse(output.ToString()).RootElement;
    }

    private async Task Begin()
    {
        Assert.SkipUnless(File.Exists(Chromium), $"{Chromium} is not installed");
        await once.WaitAsync();
        try
        {
            if (workbench is not null)
                return;
            driver = await Playwright.CreateAsync();
            browser = await driver.Chromium.LaunchAsync(new() { ExecutablePath = Chromium, Args = ["--no-sandbox"] });
            workbench = await WorkbenchHost.Open(copy.Path, 0, new LiveEngine(Environment.ProcessorCount), new ClosedFolder(Path.Combine(copy.Path, "..", "data")));
            proof = Json("prove", copy.Path);
            await proof;
        }
        finally
        {
            once.Release();
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null)
            await browser.DisposeAsync();
        driver?.Dispose();
        if (workbench is not null)
            await workbench.DisposeAsync();
        once.Dispose();
        copy.Dispose();
    }
}

/// <summary>A page whose complaints count as failures of the test.</summary>
internal sealed class WatchedPage : IAsyncDisposable
{
    private readonly List<string> complaints = [];
    private bool isForgiven;

    public WatchedPage(IPage page)
    {
        Page = page;
        page.Console += (_, message) => { if (message.Type is "error" or "warning") complaints.Add(message.Text); };
        page.PageError += (_, text) => complaints.Add(text);
        page.RequestFailed += (_, request) => { if (request.Failure != "net::ERR_ABORTED") complaints.Add($"{request.Url}: {request.Failure}"); };
    }

    public IPage Page { get; }

    /// <summary>Waits until the figures are those of the whole proof.</summary>
    public Task Proved() => Page.WaitForSelectorAsync("[data-kind=Proved]", new() { Timeout = 300_000 }); // seconds on a quiet machine

    public Task<string> Text(string selector) => Page.InnerTextAsync(selector);

    /// <summary>The texts of a table's cells, row by row.</summary>
    public async Task<string[][]> Cells(string table) =>
        await Page.EvaluateAsync<string[][]>("table => [...document.querySelectorAll(table + ' tbody tr')].map(row => [...row.cells].map(cell => cell.innerText.trim()))", table);

    /// <summary>Complaints so far count no more, nor do later ones.</summary>
    public void Forgive() => isForgiven = true;

    public async ValueTask DisposeAsync()
    {
        await Page.Context.DisposeAsync();
        if (!isForgiven)
            Assert.Empty(complaints);
    }
}
