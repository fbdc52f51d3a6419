using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Pitch.Verdicts;

/// <summary>Do the bought modules track, by their data sheets and with what the wiring does to their pitch?</summary>
internal static class BoughtClaim
{
    public static Claim? Of(Voice voice, ImmutableArray<BoughtTracking> bought)
    {
        if (bought.IsEmpty)
            return null;
        BoughtTracking worst = bought.MaxBy(module => module.WorstCents)!;
        bool passed = worst.WorstCents <= voice.Limits.TrackingCents;
        return new(
            "bought",
            "Most that a bought module may be off by its data sheet, with the wiring's bend",
            worst.WorstCents,
            voice.Limits.TrackingCents,
            LimitSense.AtMost,
            "cents",
            passed,
            $"{worst.Member}/{worst.Input}: its data sheet allows {worst.SheetCents:G3} cents",
            passed ? null : $"a module of closer tracking in place of {worst.Member}, or one whose circuit is known",
            Reasons.Words(
                "each module's promise, and what the wiring does to the voltage at its input",
                [
                    .. bought.Select(module => Reasons.Figure(
                        $"{module.Member}: {module.SheetCents:G3} cents by its data sheet; the wiring takes {module.ScaleCents:+0.00;-0.00} cents of an octave, "
                            + $"which its own trim gives back, and bends {module.BendCents:F3} cents",
                        module.WorstCents,
                        "cents"
                    )),
                ]
            )
        );
    }
}
