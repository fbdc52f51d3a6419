using Consort.Engine.Documents;
using Consort.Engine.Response;
using Microsoft.AspNetCore.Components;

namespace Consort.Workbench.Screens.Response;

/// <summary>All sheets of one oscillator.</summary>
public sealed partial class ResponseSheets
{
    /// <summary>What was read.</summary>
    [Parameter, EditorRequired]
    public ResponseBook Book { get; set; } = null!;

    /// <summary>Whose sheets are shown.</summary>
    [Parameter, EditorRequired]
    public OscillatorResponse One { get; set; } = null!;

    private IEnumerable<string> Pulses => One.Widths.Select(sheet => sheet.Output).Distinct();

    private static string Caption(IEnumerable<string> sentences) => string.Join(" ", sentences.Select(sentence => $"{ResponsePage.Capital(Minus(sentence))}."));

    private static string Minus(string text) => text.Replace('-', '−');
}
