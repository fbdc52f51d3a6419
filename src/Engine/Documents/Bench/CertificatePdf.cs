using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Bench.History;
using Consort.Engine.Documents.Files;

namespace Consort.Engine.Documents.Bench;

/// <summary>A unit's test certificate as pages (PDF), the same to the byte for the same record.</summary>
public static class CertificatePdf
{
    /// <summary>The document.</summary>
    public static byte[] Write(Certificate certificate)
    {
        using Paper paper = new($"{certificate.Sitting.Unit}: test certificate");
        PaperFlow flow = new(paper);
        Head(flow, certificate);
        Readings(flow, certificate);
        if (!certificate.Syncs.IsEmpty)
            flow.Heading("Sync").List(certificate.Syncs.Select(sync => $"{LogTime.Short(sync.Time)} UTC: {sync.Words}."));
        Story(flow, certificate);
        flow.Heading("How it was measured").List(How(certificate));
        flow.Heading("What was not measured").List(certificate.Unmeasured);
        flow.Space(8).Say("Signed ______________________________     Date ______________________");
        Foot(paper, certificate);
        return paper.Save();
    }

    private static void Head(PaperFlow flow, Certificate certificate)
    {
        SittingEntry sitting = certificate.Sitting;
        flow.Say("Test certificate", 20, bold: true).Space(3);
        flow.Say($"{certificate.Title}, serial {sitting.Unit.Serial}", 14, bold: true).Space(1);
        flow.Say($"Design: module {sitting.Unit.Module} of the voice {certificate.Voice}. Read on {LogTime.Short(sitting.Time)} UTC{(sitting.Occasion is { } why ? $", {why}" : "")}{Warmth(certificate)}.");
        flow.Space(2).Say(Verdict(certificate), 12, bold: true);
        if (!certificate.Changed.IsEmpty)
            flow.Say($"After these readings it was changed ({string.Join("; ", certificate.Changed.Select(Words))}): they may no longer hold.", bold: true);
    }

    private static string Warmth(Certificate certificate)
    {
        double[] kelvins = [.. certificate.Readings.Select(reading => reading.Kelvin).OfType<double>()];
        return kelvins.Length == 0 ? ", temperature not known" : $", at {Figures.Celsius(kelvins.Average())}";
    }

    private static string Verdict(Certificate certificate)
    {
        string limit = Invariant($"±{certificate.LimitCents:0.##} cents");
        return certificate.Verdict switch
        {
            Conformity.Within => $"Pass: pitch within {limit} at every octave asked, uncertainty included.",
            Conformity.Outside => $"Fail: pitch outside {limit}.",
            _ => certificate.IsComplete ? $"Not decided: the limit of {limit} lies within the uncertainty of a reading." : $"Not decided: not every octave asked was read; limit {limit}.",
        };
    }

    private static void Readings(PaperFlow flow, Certificate certificate)
    {
        flow.Heading("Readings against the limit");
        flow.Table(
            [new("control", 22, true), new("target", 28, true), new("measured", 30, true), new("error, cents", 26, true), new("± 95 %", 20, true), new("at", 18, true), new("limit kept", 30)],
            certificate.Readings.Select(reading => ImmutableArray.Create(
                Invariant($"{reading.Volts:0.000} V"),
                Invariant($"{reading.IdealHertz:0.000} Hz"),
                Invariant($"{reading.Hertz:0.000} Hz"),
                Invariant($"{reading.Cents:+0.00;-0.00;0.00}"),
                Invariant($"{reading.Expanded:0.00}"),
                reading.Kelvin is { } kelvin ? Figures.Celsius(kelvin) : "-",
                reading.Conformity switch { Conformity.Within => "yes", Conformity.Outside => "NO", Conformity.Undecided => "not decided", _ => "none asked" }
            ))
        );
    }

    private static void Story(PaperFlow flow, Certificate certificate)
    {
        if (certificate.Trims.IsEmpty && certificate.Faults.IsEmpty)
        {
            flow.Heading("Trims and faults").Say(certificate.Changed.IsEmpty ? "None were written down." : "None were written down before these readings.");
            return;
        }
        flow.Heading("Trims and faults");
        flow.Table(
            [new("time (UTC)", 36), new("what", 138)],
            certificate.Trims.Concat<LogEntry>(certificate.Faults).OrderBy(entry => entry.Time).Select(entry => ImmutableArray.Create(LogTime.Short(entry.Time), Words(entry)))
        );
    }

    private static string Words(LogEntry entry) =>
        entry switch
        {
            TrimEntry trim => trim.Words,
            FaultEntry fault => $"{(fault.Mended ? "mended: " : "fault: ")}{fault.What}{(fault.Cause is { } cause ? $" ({cause})" : "")}",
            _ => "",
        };

    private static IEnumerable<string> How(Certificate certificate)
    {
        SittingEntry sitting = certificate.Sitting;
        yield return Invariant($"Pitch law: {sitting.Law.VoltsPerOctave:0.####} V an octave from {sitting.Law.Hertz:0.####} Hz at {sitting.Law.Volts:0.####} V; errors are against it, with nothing taken out.");
        bool isHeard = sitting.Readings.Any(reading => reading.SignalToNoise is not null);
        yield return isHeard ? "Frequencies are fits of the whole wave to recordings, with hum of the mains beside it, by least squares." : "Frequencies were read off an instrument and typed in.";
        if (sitting.Clock.IsCalibrated)
            yield return Invariant($"The recorder's clock was set right by a reference tone ({sitting.Clock.Ppm:+0.0;-0.0;0.0} ppm).");
        yield return "± 95 % is twice the standard uncertainty (JCGM 100:2008, 6.3.3): of the frequency, of the control voltage as far as it was stated, and of the clock.";
        yield return "A limit counts as kept where the error and all of its uncertainty lie within it, as missed where they lie outside; between, nothing is decided (guarded acceptance, JCGM 106:2012).";
    }

    private static void Foot(Paper paper, Certificate certificate)
    {
        for (int i = 0; i < paper.Pages.Count; i++)
        {
            PaperPage page = paper.Pages[i];
            page.Text($"{certificate.Sitting.Unit}, {LogTime.Text(certificate.Sitting.Time)}", 18, page.Height - 9, 8, grey: 0.3);
            page.Text($"{i + 1} of {paper.Pages.Count}", page.Width - 18, page.Height - 9, 8, anchor: Anchor.Right, grey: 0.3);
        }
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
