using System.Numerics;

namespace Consort.Engine.Pitch.Locking;

/// <summary>
/// How fast two oscillators drift through each other at each phase between them, cents beside their detune: the right side of
/// Adler's equation (Proc. IRE 34 (1946) 351) for waves and responses of any shape.
/// </summary>
internal sealed class LockCurve
{
    private readonly Complex[] sum; // of the harmonics from the mean up
    private readonly int cells;
    private readonly (int Response, int Brought) harmonics;
    private bool varies;

    /// <summary>With nothing coupled yet.</summary>
    /// <param name="cells">Of a turn; an even number.</param>
    /// <param name="response">Periods of the other in the time of <paramref name="brought"/> periods of the one: what meets is
    /// every harmonic of the response with that number...</param>
    /// <param name="brought">...and the brought one's with this.</param>
    public LockCurve(int cells, int response = 1, int brought = 1)
    {
        this.cells = cells;
        harmonics = (response, brought);
        sum = new Complex[cells / 2 + 1];
    }

    /// <summary>Adds how the period of one answers through one net to what another brings there: Σ response(θ)·brought(θ + ψ) at
    /// unison. Where the one makes m periods while the other makes n, harmonic n·j of the response meets harmonic m·j of what
    /// is brought; all else has no mean.</summary>
    public void Add(TurnWave response, TurnWave brought)
    {
        varies = true;
        (Complex[] of, Complex[] at) = (response.Harmonics, brought.Harmonics);
        int most = cells / 2 / Math.Max(harmonics.Response, harmonics.Brought);
        for (int k = 0; k <= most; k++)
            sum[k] += Rounded(k, most) * Complex.Conjugate(of[k * harmonics.Response]) * at[k * harmonics.Brought];
    }

    /// <summary>At most so far what one such sum brings to the share swings, by Hölder's inequality: Σ|response − its mean| times
    /// the largest departure of what is brought from its mean.</summary>
    public static double Reach(TurnWave response, TurnWave brought) => 2 * response.Area * brought.Most;

    /// <summary>Adds what such a sum is at all phases alike, without what hangs on the phase.</summary>
    public void AddMean(TurnWave response, TurnWave brought) => sum[0] += response.Sum * brought.Sum;

    // Away from unison the series ends where one of the two does: Lanczos' factors keep a jump from overshooting there.
    private double Rounded(int harmonic, int most)
    {
        if (harmonics == (1, 1) || harmonic == 0)
            return 1;
        double x = Math.PI * harmonic / (most + 1);
        return Math.Sin(x) / x;
    }

    /// <summary>By the phase of the other ahead of the one, ψ = m·θ of the other − n·θ of the one: the share by which the one's period grows.</summary>
    public double[] Shares()
    {
        double[] shares = varies ? RealTransform.Inverse(sum) : [.. Enumerable.Repeat(sum[0].Real, cells)];
        for (int i = 0; i < shares.Length; i++)
            shares[i] /= cells;
        return shares;
    }

    /// <summary>The same in cents of pitch.</summary>
    public double[] Cents() => [.. Shares().Select(share => -Quantities.Cents.PerNeper * Math.Log(1 + share))];
}
