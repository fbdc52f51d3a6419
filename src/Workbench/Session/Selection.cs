using System.Globalization;
using Consort.Engine.Circuit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.WebUtilities;

namespace Consort.Workbench.Session;

/// <summary>What one tab looks at. It stands in the address, so that a link brings back the screen with its selection, and
/// it goes along from screen to screen.</summary>
/// <param name="navigation">The tab's address.</param>
public sealed class Selection(NavigationManager navigation)
{
    /// <summary>The member of the voice whose module is looked at: <c>lead</c>; null for none.</summary>
    public string? Member => Word("member");

    /// <summary>The oscillator, by its member's name; null for all.</summary>
    public string? Oscillator => Word("oscillator");

    /// <summary>The temperature, °C; null for the one at which trims are made.</summary>
    public double? Celsius => double.TryParse(Word("at"), NumberStyles.Float, CultureInfo.InvariantCulture, out double celsius) ? celsius : null;

    /// <summary>The same, K.</summary>
    public double Kelvin => Celsius is { } celsius ? celsius + 273.15 : Constants.ReferenceTemperature;

    /// <summary>The same as it is written, °C.</summary>
    public string CelsiusText => (Celsius ?? Constants.ReferenceTemperature - 273.15).ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>The number of a build; null for the design itself.</summary>
    public long? Build => long.TryParse(Word("build"), NumberStyles.None, CultureInfo.InvariantCulture, out long build) ? build : null;

    /// <summary>Any other word of the address; screens name their own.</summary>
    public string? Word(string key) =>
        QueryHelpers.ParseQuery(new Uri(navigation.Uri).Query).TryGetValue(key, out Microsoft.Extensions.Primitives.StringValues value) && value.ToString() is { Length: > 0 } word
            ? word
            : null;

    /// <summary>The address of a screen with this selection.</summary>
    /// <param name="screen">Its path: <c>tracking</c>.</param>
    /// <param name="changes">Words that are set anew; null takes one out.</param>
    public string Link(string screen, params ReadOnlySpan<(string Key, object? Value)> changes)
    {
        SortedDictionary<string, string?> words = new(StringComparer.Ordinal);
        foreach ((string key, Microsoft.Extensions.Primitives.StringValues value) in QueryHelpers.ParseQuery(new Uri(navigation.Uri).Query))
            words[key] = value;
        foreach ((string key, object? value) in changes)
            words[key] = value is null ? null : Convert.ToString(value, CultureInfo.InvariantCulture);
        return QueryHelpers.AddQueryString($"/{screen}", words.Where(word => !string.IsNullOrEmpty(word.Value)));
    }

    /// <summary>The present screen's address with other words.</summary>
    public string Here(params ReadOnlySpan<(string Key, object? Value)> changes) => Link(Screen, changes);

    /// <summary>Moves the tab to another selection.</summary>
    public void Choose(string key, object? value) => navigation.NavigateTo(Here((key, value)), replace: true);

    /// <summary>The path of the screen that the tab shows.</summary>
    public string Screen => new Uri(navigation.Uri).AbsolutePath.Trim('/');
}
