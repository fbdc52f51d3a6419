using System.Collections.Immutable;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Sound.Playing;

/// <summary>Phases of the lead at which it pulls those that are played, each once; for each of them one lead that makes no
/// sound turns where it pulls.</summary>
internal sealed class SyncMarks
{
    private readonly ImmutableArray<double> marks;
    private readonly int[] places; // by strip

    /// <summary>Of a mixer.</summary>
    public SyncMarks(SoundSettings settings, ImmutableArray<SoundLaw> laws)
    {
        SoundLaw[] played = [.. settings.Strips.Select(strip => laws.First(law => law.Oscillator.Name == strip.Oscillator))];
        marks = [.. played.Select(law => law.Sync).OfType<Oscillators.SyncLaw>().Select(sync => sync.Mark).Distinct()];
        places = [.. played.Select(law => law.Sync is { } sync ? marks.IndexOf(sync.Mark) : -1)];
    }

    /// <summary>The silent leads.</summary>
    public PlayedOscillator[] Leads(SoundSettings settings, ImmutableArray<SoundLaw> laws, UnrestCourse unrest, double movedCents, double volts) =>
        [
            .. marks.Select(mark => PlayedOscillator.Turning(laws[0], movedCents, settings.Rate, volts, Renderer.StartOf(laws, laws[0]) - mark,
                Unrest.Of(laws[0], unrest, "", 0, volts))),
        ];

    /// <summary>When a strip's oscillator is pulled in the block that the leads have just turned through.</summary>
    public IReadOnlyList<double> Pulls(int strip, Func<int, IReadOnlyList<double>> turns) => places[strip] < 0 ? [] : turns(places[strip]);
}
