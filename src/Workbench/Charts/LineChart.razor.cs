using System.Globalization;
using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace Consort.Workbench.Charts;

/// <summary>One chart with its legend, read-out, table and files.</summary>
public sealed partial class LineChart(IJSRuntime browser) : IAsyncDisposable
{
    private ElementReference host;
    private ElementReference readout;
    private Task<IJSObjectReference>? loading;
    private bool isLeft;
    private ChartData? drawn;
    private Dictionary<double, double>[] columns = [];

    /// <summary>What is shown.</summary>
    [Parameter, EditorRequired]
    public ChartData Data { get; set; } = null!;

    /// <summary>What follows the title.</summary>
    [Parameter]
    public RenderFragment? ChildContent { get; set; }

    /// <summary>True where the screen gives out the numbers and the drawing itself, and shows a table of its own.</summary>
    [Parameter]
    public bool HasOwnFigures { get; set; }

    // A lane bears its line's name.
    private ChartLine[] Legend => [.. Data.Lines.Where(line => line.Lane is null).DistinctBy(line => line.Style)];

    protected override void OnParametersSet() => columns = HasOwnFigures ? [] : [.. Data.Lines.Select(ChartFiles.Column)];

    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        if (Data.Lines.IsEmpty || (drawn is not null && IsSame(drawn, Data)))
            return;
        drawn = Data;
        try
        {
            IJSObjectReference script = await (loading ??= browser.InvokeAsync<IJSObjectReference>("import", "/assets/chart.js").AsTask());
            if (!isLeft)
                await script.InvokeVoidAsync("draw", host, readout, Spec(Data));
        }
        catch (JSDisconnectedException)
        {
            // the tab is closed
        }
    }

    private static bool IsSame(ChartData a, ChartData b) =>
        ReferenceEquals(a, b)
        || (a.Key == b.Key && a.Divisions == b.Divisions && a.Lines.Length == b.Lines.Length && a.Lines.Zip(b.Lines).All(pair => IsSame(pair.First, pair.Second)) && a.Levels.SequenceEqual(b.Levels) && a.Marks.SequenceEqual(b.Marks));

    private static bool IsSame(ChartLine a, ChartLine b) => a.Name == b.Name && a.Lane == b.Lane && a.Points.SequenceEqual(b.Points);

    private static object Spec(ChartData data)
    {
        double[] xs = data.Positions;
        return new
        {
            key = data.Key,
            x = new { title = data.X.Title, unit = data.X.Unit, digits = data.X.Digits },
            y = new { title = data.Y.Title, unit = data.Y.Unit, digits = data.Y.Digits },
            xs,
            lines = data.Lines.Select((line, index) => new { name = line.Name, style = line.Style, ys = Values(line, xs), lane = ChartLanes.Spec(data, index) }),
            levels = data.Levels.Select(level => new { at = level.At, name = level.Name }),
            marks = data.Marks.Select(mark => new { at = mark.At, name = mark.Name }),
            band = data.Band is { } band ? new { low = band.Low, high = band.High } : null,
            divisions = data.Divisions is { } divisions ? new { from = divisions.From, to = divisions.To, step = divisions.Step, note = divisions.Note } : null,
            bars = data.IsBars,
            fromZero = data.FromZero,
            height = data.Height,
        };
    }

    private static IEnumerable<double?> Values(ChartLine line, double[] xs)
    {
        Dictionary<double, double> column = ChartFiles.Column(line);
        return xs.Select(x => column.TryGetValue(x, out double y) && double.IsFinite(y) ? y : (double?)null);
    }

    private static string Shown(double value, ChartScale scale) =>
        double.IsFinite(value) ? value.ToString("F" + scale.Digits, CultureInfo.InvariantCulture).Replace('-', '−') : "none";

    private Task ShowAll() => Call("all", host);

    private Task KeepPng() => Call("keepPicture", host, $"{Data.Key}.png");

    private Task KeepSvg() => Call("keepText", $"{Data.Key}.svg", "image/svg+xml", ChartFiles.Svg(Data));

    private Task KeepCsv() => Call("keepText", $"{Data.Key}.csv", "text/csv", ChartFiles.Csv(Data));

    private async Task Call(string name, params object?[] arguments)
    {
        if (loading is not null)
            await (await loading).InvokeVoidAsync(name, arguments);
    }

    public async ValueTask DisposeAsync()
    {
        isLeft = true;
        if (loading is null)
            return;
        try
        {
            IJSObjectReference script = await loading;
            await script.InvokeVoidAsync("drop", host);
            await script.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // the tab is closed
        }
    }
}
