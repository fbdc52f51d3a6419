using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;
using Consort.Tests.Pitch;
using UglyToad.PdfPig;
using Xunit;

namespace Consort.Tests.Measuring.History;

public sealed class CertificateTests
{
    private static readonly Voice Toy = ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k"));
    private static readonly UnitPlace Place = UnitPlace.Find(Toy, "toy/1", null).Place!;
    private static readonly double Limit = Toy.Limits.TrackingCents;

    // Whole octaves over what the voice asks, and one above it.
    private static SittingEntry Sitting(double cents, double uncertaintyCents, int left = 0) =>
        new(Place.Unit, Entries.Noon, "after trimming", KeptLaw.Of(Place.Law), RecorderClock.None,
        [
            .. Enumerable.Range(0, (int)Toy.Limits.Octaves + 2 - left).Select(i => Toy.Limits.LowestVoltage + i * Place.Law.VoltsPerOctave).Select(volts =>
            {
                double hertz = Place.IdealHertz(volts) * Math.Pow(2, cents / 1200);
                return new KeptReading(volts, 1e-9, hertz, hertz * uncertaintyCents * Math.Log(2) / 1200, 296.15, "counter");
            }),
        ]);

    private static Certificate Of(params LogEntry[] entries) => Certificate.Of(Toy, Place, entries)!;

    [Fact]
    public void A_limit_is_kept_or_missed_only_with_all_of_the_uncertainty()
    {
        // Guard bands of the expanded uncertainty U = 2u (JCGM 106:2012, 8.3; JCGM 100:2008, 6.3.3).
        Assert.Equal(Conformity.Within, Of(Sitting(0.79 * Limit, 0.1 * Limit)).Verdict);
        Assert.Equal(Conformity.Undecided, Of(Sitting(0.81 * Limit, 0.1 * Limit)).Verdict);
        Assert.Equal(Conformity.Undecided, Of(Sitting(-1.19 * Limit, 0.1 * Limit)).Verdict);
        Assert.Equal(Conformity.Outside, Of(Sitting(-1.21 * Limit, 0.1 * Limit)).Verdict);
    }

    [Fact]
    public void An_octave_that_was_not_read_leaves_the_verdict_open_and_is_told()
    {
        Certificate certificate = Of(Sitting(0, 0.01, left: 2));
        Assert.Equal(Conformity.Undecided, certificate.Verdict);
        Assert.Contains(certificate.Unmeasured, line => line.StartsWith("Pitch at ", StringComparison.Ordinal) && line.EndsWith("which the voice asks.", StringComparison.Ordinal));
        Assert.Equal(Conformity.NotAsked, Of(Sitting(0, 0.01)).Readings[^1].Conformity);
    }

    [Fact]
    public void What_happened_after_the_readings_is_told_beside_the_verdict()
    {
        Certificate certificate = Of(new TrimEntry(Place.Unit, Entries.Noon.AddMinutes(-9), "RV1", 1, null), Sitting(0, 0.01), new TrimEntry(Place.Unit, Entries.Noon.AddMinutes(9), "RV2", -1, null));
        Assert.Equal(("RV1", "RV2"), (Assert.Single(certificate.Trims).Trimmer, Assert.IsType<TrimEntry>(Assert.Single(certificate.Changed)).Trimmer));
        Assert.Contains("they may no longer hold", Text(CertificatePdf.Write(certificate)), StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_says_it_and_is_the_same_to_the_byte()
    {
        LogEntry[] story =
        [
            new FaultEntry(Place.Unit, Entries.Noon.AddDays(-2), "no square", "cold joint at U2", Mended: false), new FaultEntry(Place.Unit, Entries.Noon.AddDays(-2).AddHours(1), "no square", null, Mended: true),
            new TrimEntry(Place.Unit, Entries.Noon.AddDays(-1), "RV2", -1.5, null), Sitting(0.5 * Limit, 0.05 * Limit),
        ];
        byte[] pdf = CertificatePdf.Write(Of(story));
        Assert.Equal(pdf, CertificatePdf.Write(Of(story)));
        string text = Text(pdf);
        foreach (string words in new[] { "Test certificate", "serial 1", "2026-03-01 12:00 UTC, after trimming, at 23 °C", "Pass: pitch within", "cold joint at U2", "RV2 turned 1.5 turns counter-clockwise", "What was not measured", "1 of 1" })
            Assert.Contains(words, text, StringComparison.Ordinal);
        if (Environment.GetEnvironmentVariable("CONSORT_LOOK") is { } place)
            File.WriteAllBytes(Path.Combine(place, "certificate.pdf"), pdf);
    }

    [Fact]
    public void The_last_sweep_under_sync_is_told_and_no_longer_missed()
    {
        SyncEntry Sync(int minutes, double sharp) =>
            new(Place.Unit, Entries.Noon.AddMinutes(minutes), null, "sweep.wav", -60, 60, 4, new(440, new(-25.25, 0.2, true), new(sharp, 0.3, true)));
        Assert.Contains("Modulation inputs, sync, currents, and ageing.", Of(Sitting(0, 0.01)).Unmeasured);
        Certificate certificate = Of(Sync(-9, 10), Sync(-8, 31.25), Sitting(0, 0.01));
        Assert.Contains("Modulation inputs, currents, and ageing.", certificate.Unmeasured);
        Assert.Equal(31.25, Assert.Single(certificate.Syncs).Hold!.Sharp.Cents);
        Assert.Contains("sync held from −25.3 ± 0.4 to +31.3 ± 0.6 cents at 440.0 Hz", Text(CertificatePdf.Write(certificate)), StringComparison.Ordinal);
    }

    private static string Text(byte[] pdf)
    {
        using PdfDocument document = PdfDocument.Open(pdf);
        return string.Join(' ', document.GetPages().SelectMany(page => page.GetWords()).Select(word => word.Text));
    }
}
