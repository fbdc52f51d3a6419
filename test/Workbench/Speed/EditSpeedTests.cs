using System.Diagnostics;
using System.Globalization;
using System.Text;
using Consort.Workbench.Session;
using Consort.Workbench.Tests.Screens;
using Microsoft.Playwright;
using Xunit;

namespace Consort.Workbench.Tests.Speed;

/// <summary>How soon an edit is answered in the browser, and what a long sitting takes in memory. Figures are printed and, when
/// CONSORT_BENCH names a file, kept there; nothing is asserted of them but that every edit was answered.</summary>
[Trait("Runs", "Long")]
public sealed class EditSpeedTests(OpenBrowser open, ITestOutputHelper output) : LiveQuartet
{
    private const int Edits = 200;

    // Types a value, and waits for the frame after the figures of that text are on the page.
    private const string Answered = """
        async ([label, value]) => {
          const field = [...document.querySelectorAll('input')].find(one => one.getAttribute('aria-label') === label);
          const before = document.querySelector('.figures')?.dataset.revision ?? '-1';
          const start = performance.now();
          field.value = value;
          field.dispatchEvent(new Event('change', { bubbles: true }));
          return await new Promise((done, fail) => {
            setTimeout(() => fail(new Error('not answered within 20 s: ' + label + ' ' + value + ' ' + document.querySelector('.standing')?.innerText)), 20000);
            const look = () => {
              const now = document.querySelector('.figures')?.dataset.revision;
              if (now !== undefined && +now > +before) { watch.disconnect(); requestAnimationFrame(() => done(performance.now() - start)); }
            };
            const watch = new MutationObserver(look);
            watch.observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
          });
        }
        """;

    private static readonly (string Label, string One, string Other)[] Changes =
    [
        ("R3 tolerance", "1%", "0.1%"),
        ("R16 value", "54k", "54k9"),
        ("limit: drift", "19 cents", "20 cents"),
        ("third: stands", "+5 cents", "+4 cents"),
        ("C6 tolerance", "2%", "1%"),
        ("R12 drift", "50 ppm/K", "25 ppm/K"),
    ];

    [Fact]
    public async Task Every_one_of_200_edits_is_answered()
    {
        await using WatchedPage page = await open.Elsewhere(Workbench.Address + "voice?member=lead");
        await page.Proved();
        List<double> times = [];
        for (int i = 0; i < Edits; i++)
        {
            (string label, string one, string other) = Changes[i % Changes.Length];
            times.Add(await page.Page.EvaluateAsync<double>(Answered, new[] { label, i / Changes.Length % 2 == 0 ? one : other }));
            await page.Page.WaitForTimeoutAsync(60);
        }
        Assert.Equal(Edits, times.Count);
        double[] sorted = [.. times.Order()];
        Keep($"edit to first figures, quartet, {Edits} edits in chromium: median {sorted[Edits / 2]:0} ms, 95th percentile {sorted[(int)(0.95 * Edits)]:0} ms, longest {sorted[^1]:0} ms");
    }

    [Fact]
    public async Task A_thousand_edits_and_twenty_tabs_are_borne()
    {
        await using WatchedPage first = await open.Elsewhere(Workbench.Address + "tracking");
        await first.Proved();
        (double, double) before = Memory();
        for (int i = 0; i < 1000; i++)
        {
            Assert.Null(Workbench.Session.Set(new("modules/quartet-lead.yaml", "circuit", "R3", "tolerance"), i % 2 == 0 ? "1%" : "0.1%"));
            await Task.Delay(5, TestContext.Current.CancellationToken);
        }
        Assert.Equal(1000, Workbench.Session.State.Undoable);
        await first.Proved();
        (double, double) edited = Memory();
        List<WatchedPage> tabs = [];
        for (int i = 0; i < 20; i++)
            tabs.Add(await open.Elsewhere(Workbench.Address + "tracking"));
        foreach (WatchedPage tab in tabs)
            await tab.Proved();
        (double, double) opened = Memory();
        foreach (WatchedPage tab in tabs)
            await tab.DisposeAsync();
        Keep(string.Create(CultureInfo.InvariantCulture, $"memory, MB held (of which managed): proved {before.Item1:0} ({before.Item2:0}), after 1,000 edits {edited.Item1:0} ({edited.Item2:0}), with 20 tabs more {opened.Item1:0} ({opened.Item2:0})"));
    }

    private static (double Held, double Managed) Memory()
    {
        double managed = GC.GetTotalMemory(forceFullCollection: true) / 1e6;
        using Process self = Process.GetCurrentProcess();
        return (self.WorkingSet64 / 1e6, managed);
    }

    private void Keep(string line)
    {
        output.WriteLine(line);
        if (Environment.GetEnvironmentVariable("CONSORT_BENCH") is { Length: > 0 } file)
            File.AppendAllText(file, line + "\n", Encoding.UTF8);
    }
}
