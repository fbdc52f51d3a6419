using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;
using Consort.Engine.Expected;

namespace Consort.Engine.Documents.Packs;

/// <summary>The trimming sheet: in order, with targets, tolerance and which way to turn.</summary>
internal static class GuideTrims
{
    public static void Write(PaperFlow flow, PackContent content)
    {
        if (content.Trims.All(sheet => sheet.Lines.IsEmpty))
            return;
        double cents = content.Voice.Limits.TrackingCents;
        flow.Chapter("Trimming");
        flow.Say("Let everything warm up for half an hour at room temperature, closed as it will be played (common practice). Leads before their followers. A frequency counter or a tuner on an output; a control voltage that is known to 0.2 mV, or the voice's own keyboard, at the pitch input of the lead, through the cords it will be played with.");
        flow.List(
            [
                "Tracking: read the low and the high note in turn. Too wide an interval: turn as the table says, until they stand exactly as many octaves apart as it says. Ignore how high they both stand.",
                "Centre: bring its one note to the target.",
                "Go round tracking and centre until neither moves any more.",
                "High end last; then check the centre again.",
            ],
            isNumbered: true
        );
        flow.Say(string.Create(CultureInfo.InvariantCulture, $"Tolerance: ±{cents:0.##} cents at every note, as voice.yaml asks. 'Ends at' is where the design itself comes to stand; a build that ends near either end of a trimmer deserves a look at its parts."));
        foreach (TrimTable sheet in content.Trims.Where(sheet => !sheet.Lines.IsEmpty))
        {
            flow.Heading($"{sheet.Oscillator.Name} ({sheet.Oscillator.Member.Module.Name}{Stands(sheet.Oscillator.Member)})");
            flow.Table(
                [new("trimmer", 18), new("for", 19), new("control", 20, true), new("target", 24, true), new("within, Hz", 37, true), new("if too high or wide, turn", 36), new("ends at turn", 20)],
                sheet.Lines.SelectMany(line => Rows(line, cents))
            );
        }
    }

    private static string Stands(Member member) =>
        member.StandsCents == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $", stands {member.StandsCents:+0.##;-0.##} cents");

    private static IEnumerable<ImmutableArray<string>> Rows(TrimLine line, double cents)
    {
        string purpose = line.Purpose switch { TrimPurpose.Tracking => "tracking", TrimPurpose.Centre => "centre", TrimPurpose.HighEnd => "high end", _ => "other" };
        string end = string.Create(CultureInfo.InvariantCulture, $"{line.Position * line.Turns:0.0} of {line.Turns:0.#}");
        if (double.IsNaN(line.HighVolts))
        {
            yield return [line.Trimmer, purpose, "", "", "", "set it, leave it", end];
            yield break;
        }
        if (!double.IsNaN(line.LowVolts))
            yield return [line.Trimmer, purpose, Volts(line.LowVolts), Hertz(line.LowHertz), Window(line.LowHertz, cents), "", ""];
        yield return [line.Trimmer, purpose, Volts(line.HighVolts), Hertz(line.HighHertz), Window(line.HighHertz, cents), Turn(line), end];
    }

    private static string Turn(TrimLine line) =>
        line.ClockwiseRaises is not { } raises ? "try which way"
        : string.Create(CultureInfo.InvariantCulture, $"{(raises ? "counter-clockwise" : "clockwise")}, {Math.Abs(line.CentsPerTurn):0.0} cents{(line.Purpose == TrimPurpose.Tracking ? " an octave" : "")} a turn");

    private static string Volts(double volts) => string.Create(CultureInfo.InvariantCulture, $"{volts:0.000} V");

    /// <summary>Five digits: a hundredth of a cent is 6 parts in a million.</summary>
    internal static string Hertz(double hertz) =>
        string.Create(CultureInfo.InvariantCulture, $"{(hertz < 100 ? hertz.ToString("0.000", CultureInfo.InvariantCulture) : hertz < 1000 ? hertz.ToString("0.00", CultureInfo.InvariantCulture) : hertz.ToString("0.0", CultureInfo.InvariantCulture))} Hz");

    /// <summary>From so many cents flat to so many sharp.</summary>
    internal static string Window(double hertz, double cents)
    {
        double share = Math.Pow(2, cents / 1200);
        return $"{Hertz(hertz / share).Replace(" Hz", "", StringComparison.Ordinal)} to {Hertz(hertz * share).Replace(" Hz", "", StringComparison.Ordinal)}";
    }
}
