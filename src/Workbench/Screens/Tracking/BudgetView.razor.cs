using System.Globalization;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Tracking;

/// <summary>One oscillator's tracking error by cause and part.</summary>
public sealed partial class BudgetView
{
    private const int Most = 12;

    [Parameter, EditorRequired]
    public Budget Budget { get; set; } = null!;

    private IEnumerable<(string Cause, double Cents, double Volts)> Causes =>
        from cause in ReportBudget.ByCause(Budget)
        let worst = Enumerable.Range(0, cause.Cents.Length).MaxBy(i => Math.Abs(cause.Cents[i]))
        select (cause.Cause.ToString().ToLowerInvariant(), cause.Cents[worst], Budget.ControlVolts[worst]);

    private string Length(double cents)
    {
        double most = Math.Max(1e-9, Causes.Max(cause => Math.Abs(cause.Cents)));
        return Math.Max(1, 156 * Math.Abs(cents) / most).ToString("0.#", CultureInfo.InvariantCulture);
    }
}
