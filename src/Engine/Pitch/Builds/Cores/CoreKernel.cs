using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>Evaluates a core law for builds in lanes: pitch error of a build from its timing current. One thread at a time.</summary>
internal sealed class CoreKernel<T>
    where T : struct, ILanes<T>
{
    private readonly T[] phi;
    private readonly T[] departures; // as they are, trimmers' moves past them
    private readonly T[] stand; // d of each mover
    private readonly T[] moved; // U − U₀ at each known current
    private CoreLaw law;
    private int at;

    public CoreKernel(CoreLaw law)
    {
        this.law = law;
        phi = new T[law.Parameters.Length + law.Trimmers.Length];
        departures = new T[phi.Length];
        (stand, moved) = (new T[law.Movers.Length], new T[law.Slopes[0].Length]);
    }

    /// <summary>Measures against another pitch from now on.</summary>
    /// <param name="asked">The law that it was made for, of the oscillator as it is asked now.</param>
    public void Ask(CoreLaw asked) => law = asked;

    /// <summary>Takes builds: departures by the law's parameters.</summary>
    public void Take(ReadOnlySpan<T> builds)
    {
        builds.CopyTo(departures);
        for (int p = 0; p < law.Parameters.Length; p++)
            phi[p] = law.Drawn[p].Move switch
            {
                MoveKind.Share => LaneMath.Log(T.Of(1) + builds[p]),
                MoveKind.Added => builds[p],
                MoveKind.InverseShare => -LaneMath.Log(T.Of(1) + builds[p]),
                _ => builds[p] * T.Of(-DrawnParameter.PerVt),
            };
    }

    /// <summary>Brings the builds to a temperature. Call <see cref="Turn"/> afterwards.</summary>
    public void SetTemperature(int k) => at = k;

    /// <summary>Turns the trimmers: positions by trimmer of the voice.</summary>
    public void Turn(ReadOnlySpan<T> positions)
    {
        for (int t = 0; t < law.Trimmers.Length; t++)
        {
            int place = law.Parameters.Length + t;
            departures[place] = phi[place] = positions[law.Trimmers[t]] - T.Of(law.Positions[t]);
        }
        for (int j = 0; j < moved.Length; j++)
            moved[j] = Along(law.Slopes[at][j]);
        for (int m = 0; m < stand.Length; m++)
        {
            MovedLaw mover = law.Movers[m];
            T d = stand[m] = departures[mover.Phi] * T.Of(mover.PerDeparture);
            for (int j = 0; j < moved.Length; j++)
            {
                (double[] first, double[] second) = mover.Others[j];
                moved[j] += T.Fma(d, T.Fma(d, Along(second), Along(first)), CoreCurve.At(mover.Own[j], d));
            }
        }
        foreach (CorePair pair in law.Pairs)
            for (int j = 0; j < moved.Length; j++)
                moved[j] += pair.Coefficients[j].At(stand[pair.First], stand[pair.Second]);
    }

    private T Along(double[] slopes)
    {
        T sum = T.Of(0);
        for (int p = 0; p < slopes.Length; p++)
            sum = T.Fma(phi[p], T.Of(slopes[p]), sum);
        return sum;
    }

    /// <summary>Pitch error of the builds at a note, cents.</summary>
    /// <param name="n">The note.</param>
    /// <param name="logShare">ln of their timing current over the design's.</param>
    public T Cents(int n, T logShare)
    {
        T x = LaneMath.ExpLessOne(logShare);
        (double first, double second) = law.Tilts[at][n];
        T charge = x * T.Fma(x, T.Of(0.5 * second), T.Of(first));
        double[] weights = law.Weights[at][n];
        double[] slopes = law.WeightSlopes[at][n];
        for (int j = 0; j < moved.Length; j++)
            charge = T.Fma(moved[j], T.Fma(x, T.Of(slopes[j]), T.Of(weights[j])), charge);
        return T.Fma(logShare, T.Of(Quantities.Cents.PerNeper), T.Of(law.Cents[at][n])) - charge;
    }
}
