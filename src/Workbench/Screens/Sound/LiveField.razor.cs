using System.Globalization;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Sound;

/// <summary>A number that is followed while it is being changed.</summary>
public sealed partial class LiveField
{
    private bool isWrong;

    /// <summary>Of its number's element.</summary>
    [Parameter, EditorRequired]
    public string Id { get; set; } = "";

    /// <summary>What it is.</summary>
    [Parameter, EditorRequired]
    public string Label { get; set; } = "";

    /// <summary>Whose it is, for those who hear labels.</summary>
    [Parameter]
    public string Of { get; set; } = "";

    /// <summary>Unit.</summary>
    [Parameter]
    public string Unit { get; set; } = "";

    /// <summary>Lowest value.</summary>
    [Parameter]
    public double Low { get; set; }

    /// <summary>Highest value.</summary>
    [Parameter]
    public double High { get; set; } = 1;

    /// <summary>Between values of arrow keys.</summary>
    [Parameter]
    public double Step { get; set; } = 1;

    /// <summary>Where it stands.</summary>
    [Parameter]
    public double Value { get; set; }

    /// <summary>Told every sensible value.</summary>
    [Parameter]
    public EventCallback<double> Changed { get; set; }

    private static string Plain(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private Task Take(ChangeEventArgs change)
    {
        isWrong = !double.TryParse($"{change.Value}", NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !(value >= Low && value <= High);
        return isWrong ? Task.CompletedTask : Changed.InvokeAsync(value);
    }
}
