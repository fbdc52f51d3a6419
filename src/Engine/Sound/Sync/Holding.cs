using Consort.Engine.Sound.Oscillators;

namespace Consort.Engine.Sound.Sync;

/// <summary>What becomes of an oscillator that another pulls, once both have played for a while.</summary>
/// <param name="IsHeld">True when its wave repeats with every period of the other.</param>
/// <param name="Turns">Of its own, a period of the other, on average; whole when it is held.</param>
public readonly record struct Holding(bool IsHeld, double Turns)
{
    private const int Settling = 200; // pulls
    private const int Counted = 100;
    private const int Patience = 12; // times both
    private const int Starts = 8; // phases at which they may meet
    private const double Same = 1e-6; // turns

    /// <summary>Looked at between these, cents of its own pitch against the other's.</summary>
    public const double Farthest = 1200;

    private const int Step = 5; // cents
    private const double Fine = 0.05;

    /// <summary>At two pitches, Hz: that of the one that pulls and its own. Held is one that is held however they meet.</summary>
    public static Holding Of(SyncLaw law, double lead, double own)
    {
        Holding last = default;
        for (int i = 0; i < Starts; i++)
            if (!(last = From((i + 0.5) / Starts, law, lead, own)).IsHeld)
                break;
        return last;
    }

    // One that stands near the other slides past it for hundreds of pulls before it is caught.
    private static Holding From(double phase, SyncLaw law, double lead, double own)
    {
        Holding seen = default;
        for (int tries = 0; tries < Patience && !seen.IsHeld; tries++)
            seen = Watch(law, lead, own, ref phase);
        return seen;
    }

    private static Holding Watch(SyncLaw law, double lead, double own, ref double phase)
    {
        (double ratio, double turns) = (own / lead, 0);
        for (int pull = 0; pull < Settling; pull++)
            Pass(law, own, ratio, ref phase);
        (double start, double last, double most) = (phase, phase, 0);
        for (int pull = 0; pull < Counted; pull++)
        {
            turns += Pass(law, own, ratio, ref phase);
            most = Math.Max(most, Math.Abs(Quantities.Turns.Short(phase - last)));
            last = phase;
        }
        bool held = most < Same && Math.Abs(Quantities.Turns.Short(phase - start)) < Same;
        return new(held, held ? Math.Round(turns / Counted) : turns / Counted);
    }

    // From before one pull to before the next; by how much it turned.
    private static double Pass(SyncLaw law, double own, double ratio, ref double phase)
    {
        double after = law.After(phase, own);
        double turned = Quantities.Turns.Short(after - phase) + ratio;
        phase = Quantities.Turns.Part(after + ratio);
        return turned;
    }

    /// <summary>How far its own pitch may stand from the other's and it is held, cents; those around a pitch at which it is, or
    /// else the nearest to unison; null when nowhere within an octave.</summary>
    public static (double From, double To)? Range(SyncLaw law, double lead, double around = 0)
    {
        bool IsHeldAt(double cents) => Of(law, lead, lead * Math.Pow(2, cents / 1200)).IsHeld;
        double inside = around;
        if (!IsHeldAt(around))
        {
            double[] nearest = [.. Enumerable.Range(0, (int)Farthest / Step + 1).SelectMany(i => (double[])[i * Step, -i * Step]).Where(IsHeldAt).Take(1)];
            if (nearest.Length == 0)
                return null;
            inside = nearest[0];
        }
        return (End(IsHeldAt, inside, -1), End(IsHeldAt, inside, 1));
    }

    private static double End(Func<double, bool> isHeld, double from, int way)
    {
        double held = from;
        while (Math.Abs(held + way * Step) <= Farthest && isHeld(held + way * Step))
            held += way * Step;
        if (Math.Abs(held + way * Step) > Farthest)
            return way * Farthest;
        double lost = held + way * Step;
        while (Math.Abs(lost - held) > Fine)
        {
            double middle = 0.5 * (held + lost);
            (held, lost) = isHeld(middle) ? (middle, lost) : (held, middle);
        }
        return held;
    }
}
