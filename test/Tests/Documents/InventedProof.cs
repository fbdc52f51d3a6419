using System.Collections.Immutable;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Spread;

namespace Consort.Tests.Documents;

/// <summary>A proof made up for tests of printing. No circuit stands behind its figures.</summary>
internal static class InventedProof
{
    private static readonly string[] Members = ["lead", "second", "third", "fourth"];

    public static Limits Limits { get; } = new(3, 5, 1, 20, 288.15, 308.15, 3, 3);

    /// <summary>A voice that meets all but one of its limits.</summary>
    public static Proof Quartet() =>
        new(
            "invented quartet",
            "A lead and three followers, made up for a test of this page.",
            Limits,
            [Tracking(), Drift(), Follower(), Chain(), TrimReach()],
            [.. new[] { 298.15, 288.15, 308.15 }.SelectMany(kelvin => Members.Select((_, i) => Curve(i, kelvin)))],
            [.. Members.SelectMany((name, i) => new[] { Shift(name, i, 288.15), Shift(name, i, 308.15) })],
            [.. Members.Select(Budget)],
            new("lead", [.. Enumerable.Range(0, 17).Select(Point)], 7, "pitch of follower 8 against the lead", "a second 0 V pin in the ribbon"),
            [.. Members.SelectMany(Trims)],
            [
                new("period from the transient", 0.0021, "cents", "a run with 100 times tighter tolerance"),
                new("fitted law of the core", 0.034, "cents", "full transients of 12 notes"),
            ],
            ["The rails were taken as 12 V exactly at the supply."],
            ["Hum and noise picked up by cords.", "Warm-up after switching on: all parts are at one temperature."]
        )
        {
            Spread = Builds(),
        };

    private static Claim Tracking() =>
        new("tracking", "Worst error, 1 V to 6 V, trimmed, 25 °C", 2.14, 3, LimitSense.AtMost, "cents", true,
            "emitter resistance of lead/Q1 at the top", null, Why());

    private static Claim Drift() =>
        new("drift", "Largest move of any note, 15 °C to 35 °C", 26.3, 20, LimitSense.AtMost, "cents", false,
            "drift of fourth/C5, polystyrene", "a capacitor within 30 ppm/K (C0G) in place of fourth/C5",
            new("largest move of any note", 26.3, "cents", null,
                [new("fourth/C5: tempco", 25.9, "cents", new("fourth/C5", "tempco", -120e-6, "", 0.0173, "1 ppm/K"), [])]));

    private static Claim Follower() =>
        new("follower error", "Worst follower against the lead, 1 V to 6 V", 1.02, 3, LimitSense.AtMost, "cents", true,
            "ground return of the ribbon", null, new("worst follower", 1.02, "cents", null, []));

    private static Claim Chain() =>
        new("chain", "Followers that the lead carries", 7, 3, LimitSense.AtLeast, "followers", true,
            "at 8: pitch of follower 8 against the lead", null, new("carried", 7, "followers", null, []));

    private static Claim TrimReach() =>
        new("trims", "Trimmers that reach their place", 100, 100, LimitSense.AtLeast, "%", true,
            "lead/RV2 uses 61 % of its range", null, new("reached", 100, "%", null, []));

    private static Reason Why() =>
        new("worst error of lead, at 6 V", 2.14, "cents", null,
        [
            new("converter", 1.61, "cents", null,
            [
                new("emitter resistance drops voltage at high currents", 1.44, "cents",
                    new("lead/Q1", "emitter resistance", 0.4, "Ω", 0.36, "0.1 Ω"), []),
                new("Early effect", 0.17, "cents", new("lead/Q1", "forward Early voltage", 80, "V", -0.021, "10 V"), []),
            ]),
            new("reset", 0.53, "cents", null,
                [new("switch on-resistance and capacitor", 0.53, "cents", new("lead/Q5", "transconductance", 4e-3, "A/V²", 0.05, "1 %"), [])]),
        ]);

    private static TrackingCurve Curve(int i, double kelvin)
    {
        double warm = kelvin - 298.15;
        IEnumerable<TrackingPoint> points = Enumerable.Range(0, 10).Select(octave =>
        {
            double ideal = 32.703 * Math.Pow(2, octave) * Math.Pow(2, 5.0 * i / 1200);
            double cents = -0.9 * Math.Sin(octave + 0.4 * i) - 0.035 * (i + 1) * Math.Pow(octave - 3, 2) + warm * (0.4 + 0.1 * i) * (octave - 3) / 3;
            return new TrackingPoint(octave, ideal, ideal * Math.Pow(2, cents / 1200), cents);
        });
        return new(Members[i], kelvin, [.. points]);
    }

    /// <summary>A thousand invented builds.</summary>
    internal static SpreadResult Builds() =>
        new(
            1000,
            "Sobol' points, scrambled, seed 1",
            1,
            new(941, 1000),
            0.9,
            [
                new("tracking", "worst pitch error, trimmed, 25 °C", 3, new(1000, 1000), 0.26, 0.33, 0.38),
                new("drift", "largest move of any note with temperature", 20, new(941, 1000), 11.2, 20.4, double.PositiveInfinity),
            ],
            [
                .. ((double[])[298.15, 308.15]).SelectMany(kelvin =>
                    ((string[])["lead", "second"]).Select(
                        (name, i) => new SpreadBand(name, kelvin, [0, 3, 6, 9], [0.1, 0.2, 0.1, 0.4 + i], [0.1, 0.2, 0.5 + 0.1 * (kelvin - 298.15), 1])
                    )
                ),
            ],
            [
                new("lead", "RV1", TrimPurpose.Tracking, 0.58, 0.33, 0.58, 0.83, new(0, 1000), 0, -0.023, 0.17),
                new("lead", "RV3", TrimPurpose.HighEnd, 0.5, 0.02, 0.4, 0.98, new(37, 1000), 4.2, 0.002, 0.014),
            ],
            [new("second", 1, 65.4, 1.1, 2.2, 0.083), new("second", 6, 2093, 1.4, 2.9, 3.51)],
            [new("lead/R1", "drift", 0.0004, 0.225, 0, 0.012), new("second/C6", "tolerance", 0.31, 0.004, 0.02, 0.014)],
            [new(724, 0.24, double.PositiveInfinity, 6.9, "second at 6 V"), new(17, 0.3, 22.1, 1, "lead at 1 V")]
        );

    private static TemperatureShift Shift(string name, int i, double kelvin)
    {
        double sign = Math.Sign(kelvin - 298.15);
        return new(name, kelvin, sign * (6.1 + 5 * i), 9, 0.61 + 0.5 * i, sign * 0.4, "timing capacitor's tempco");
    }

    private static Budget Budget(string name, int i)
    {
        (Cause Cause, string Part, string Parameter, double Value, string Unit, double Size)[] lines =
        [
            (Cause.Converter, $"{name}/Q1", "emitter resistance", 0.4, "Ω", 0.02),
            (Cause.Reset, $"{name}/Q5", "transconductance", 4e-3, "A/V²", 0.011),
            (Cause.Offsets, $"{name}/U1A", "offset", 3e-3, "V", -0.006),
            (Cause.Leakage, $"{name}/Q5", "leakage", 20e-12, "A", 0.004),
            (Cause.Loading, "keyboard/R", "value", 1000, "Ω", -0.003 * i),
        ];
        ImmutableArray<double> volts = [.. Enumerable.Range(0, 10).Select(octave => (double)octave)];
        double sum = lines.Sum(line => Math.Abs(line.Size));
        return new(name, volts,
            [.. lines.Select(line => new BudgetLine(line.Cause, line.Part, line.Parameter, line.Value, line.Unit,
                [.. volts.Select(v => line.Size * (v - 3) * (v - 1))], Math.Abs(line.Size) / sum))],
            [.. volts.Select(v => 0.002 * v)]);
    }

    private static ChainPoint Point(int followers)
    {
        double worst = 0.055 * followers * followers;
        bool passed = worst <= 3;
        return new(followers, worst, followers == 0 ? "" : $"follower {followers}", 18e-3 - 0.6e-3 * followers,
            followers < 15 ? 0.02 * followers * followers : double.PositiveInfinity, 40e-6 * followers, 3e-3 * followers, passed,
            passed ? null : $"pitch of follower {followers} against the lead");
    }

    private static IEnumerable<TrimResult> Trims(string name, int i) =>
    [
        new(name, "RV2", TrimPurpose.Tracking, 0.5 + 0.1 * i, 0.2 * i, 8.4, true),
        new(name, "RV1", TrimPurpose.Centre, 0.43, 0.14, 35, true),
        new(name, "RV3", TrimPurpose.HighEnd, i == 3 ? 1 : 0.6, i == 3 ? 1 : 0.2, 2.1, i != 3),
    ];
}
