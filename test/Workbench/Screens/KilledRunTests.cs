using System.Diagnostics;
using Consort.Workbench.Folder;
using Consort.Workbench.Session;
using Consort.Workbench.Tests.Session;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Screens;

/// <summary>The program itself, killed while it saves.</summary>
public sealed class KilledRunTests(OpenBrowser open) : IDisposable
{
    private readonly OwnCopy copy = new("pair");

    private string Data => Path.Combine(copy.Path, "..", "data");

    public void Dispose() => copy.Dispose();

    [Fact]
    public async Task A_run_that_is_killed_while_it_saves_leaves_whole_files_and_every_change()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no SIGKILL there");
        Random random = new(3);
        for (int round = 1; round <= 3; round++)
        {
            string was = await File.ReadAllTextAsync(copy.At("voice.yaml"), TestContext.Current.CancellationToken);
            using Process program = Start();
            string address = (await program.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken))!;
            string value = $"{10 + round} cents";
            await using (WatchedPage page = await open.Elsewhere(address + "voice"))
            {
                ILocator field = page.Page.GetByLabel("limit: drift");
                await field.FillAsync(value);
                await field.PressAsync("Enter");
                await page.Page.WaitForSelectorAsync("text=1 file changed");
                await page.Page.EvaluateAsync("() => { [...document.querySelectorAll('.tools button')].find(b => b.innerText === 'Save').click(); }");
                await Task.Delay(random.Next(12), TestContext.Current.CancellationToken);
                program.Kill(); // SIGKILL
                await program.WaitForExitAsync(TestContext.Current.CancellationToken);
                page.Forgive(); // that the connection is gone is no complaint here
            }
            string now = await File.ReadAllTextAsync(copy.At("voice.yaml"), TestContext.Current.CancellationToken);
            Assert.Contains(now, new[] { was, Changed(was, value) });
            using VoiceSession later = new(new ClosedFolder(copy.Path), new SilentEngine(), new ClosedFolder(Data), TimeProvider.System);
            Assert.Equal(value, new TextPlace("voice.yaml", "limits", "drift").In(later.State.Texts));
            Assert.False(later.State.HasMistakes);
            Assert.Null(later.Save());
        }
    }

    private static string Changed(string text, string value) => System.Text.RegularExpressions.Regex.Replace(text, "(?<=[ {]drift: )[0-9]+ cents", value);

    private Process Start()
    {
        string program = Path.Combine(AppContext.BaseDirectory, "consort.dll");
        ProcessStartInfo start = new("dotnet", [program, "open", copy.Path]) { RedirectStandardOutput = true, UseShellExecute = false };
        start.Environment["CONSORT_DATA"] = Data;
        return Process.Start(start)!;
    }
}
