using System.Diagnostics;
using System.Globalization;
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
        List<(string Label, double Milliseconds)> times = [];
        for (int i = 0; i < Edits; i++)
        {
            (string label, string one, string other) = Changes[i % Changes.Length];
            times.Add((label, await page.Page.EvaluateAsync<double>(Answered, new[] { label, i / Changes.Length % 2 == 0 ? one : other })));
            await page.Page.WaitForTimeoutAsync(60);
        }
        Assert.Equal(Edits, times.Count);
        IEnumerable<string> rows = times.GroupBy(time => time.Label).Select(kind => Row(kind.Key, kind.Select(time => time.Milliseconds)));
        KeptFigures.Keep(output, $"""
            From an edit to its first figures in Chromium, the quartet, one after the other.

            | edit | times | median, ms | 95th percentile, ms | longest, ms |
            |---|---:|---:|---:|---:|
            {string.Join('\n', rows.Append(Row("**all**", times.Select(time => time.Milliseconds))))}

            """);
    }

    private static string Row(string what, IEnumerable<double> milliseconds)
    {
        double[] sorted = [.. milliseconds.Order()];
        return string.Create(CultureInfo.InvariantCulture, $"| {what} | {sorted.Length} | {sorted[sorted.Length / 2]:0} | {sorted[(int)(0.95 * sorted.Length)]:0} | {sorted[^1]:0} |");
    }

    [Fact]
    public async Task A_thousand_edits_and_twenty_tabs_are_borne()
    {
        await using WatchedPage first = await open.Elsewhere(Workbench.Address + "tracking");
        await first.Proved();
        (double Held, double Managed) before = Memory();
        for (int i = 0; i < 1000; i++)
        {
            Assert.Null(Workbench.Session.Set(new("modules/quartet-lead.yaml", "circuit", "R3", "tolerance"), i % 2 == 0 ? "1%" : "0.1%"));
            await Task.Delay(5, TestContext.Current.CancellationToken);
        }
        Assert.Equal(1000, Workbench.Session.State.Undoable);
        await first.Proved();
        (double Held, double Managed) edited = Memory();
        List<WatchedPage> tabs = [];
        for (int i = 0; i < 20; i++)
            tabs.Add(await open.Elsewhere(Workbench.Address + "tracking"));
        foreach (WatchedPage tab in tabs)
            await tab.Proved();
        (double Held, double Managed) opened = Memory();
        foreach (WatchedPage tab in tabs)
            await tab.DisposeAsync();
        KeptFigures.Keep(output, string.Create(CultureInfo.InvariantCulture, $"""
            Memory of the program, MB; it holds the test's own driver of the browser too.

            | when | held | of which managed |
            |---|---:|---:|
            | proved, one tab | {before.Held:0} | {before.Managed:0} |
            | after 1,000 edits | {edited.Held:0} | {edited.Managed:0} |
            | with 20 tabs more | {opened.Held:0} | {opened.Managed:0} |

            """));
    }

    private static (double Held, double Managed) Memory()
    {
        double managed = GC.GetTotalMemory(forceFullCollection: true) / 1e6;
        using Process self = Process.GetCurrentProcess();
        return (self.WorkingSet64 / 1e6, managed);
    }
}
