using System.Collections.Immutable;
using Consort.Engine.Sound.Spectra;

namespace Consort.Engine.Response;

/// <summary>The wave of a synced oscillator at one own pitch.</summary>
/// <param name="OwnCents">Its own pitch against the leading one's, cents.</param>
/// <param name="Times">Over one period of the leading one, shares of it.</param>
/// <param name="Volts">There.</param>
/// <param name="Amplitudes">Harmonics 1 to 20 of the leading frequency, V.</param>
public sealed record SyncView(double OwnCents, ImmutableArray<double> Times, ImmutableArray<double> Volts, ImmutableArray<double> Amplitudes);

/// <summary>How an oscillator follows another's resets, or pulses at a jack.</summary>
/// <param name="Source">What it follows: a member's name, or the jack.</param>
/// <param name="Way">The selector and the way that it stands at; empty when there is none.</param>
/// <param name="SharpCents">So far above the leading frequency its own may stand and it is still caught.</param>
/// <param name="SharpEnds">False when it still was at the end of the search.</param>
/// <param name="FlatCents">The same below.</param>
/// <param name="FlatEnds">The same.</param>
/// <param name="Output">Label of the jack whose wave is shown.</param>
/// <param name="Views">Waves within the range, from flat to sharp.</param>
public sealed record SyncSheet(
    string Source,
    string Way,
    double SharpCents,
    bool SharpEnds,
    double FlatCents,
    bool FlatEnds,
    string Output,
    ImmutableArray<SyncView> Views
)
{
    /// <summary>Largest change of the spectrum between two views: the root of the sum of squares of what harmonics 1 to 20
    /// differ by, against the root of the sum of squares of the stronger one's.</summary>
    public double SpectrumChange
    {
        get
        {
            double most = 0;
            foreach (SyncView a in Views)
                foreach (SyncView b in Views)
                    most = Math.Max(most, HarmonicReading.Combine(a.Amplitudes.Zip(b.Amplitudes, (x, y) => x - y)) / Math.Max(HarmonicReading.Combine(a.Amplitudes), HarmonicReading.Combine(b.Amplitudes)));
            return most;
        }
    }
}
