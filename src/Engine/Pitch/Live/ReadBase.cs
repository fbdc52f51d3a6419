using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Live;

/// <summary>A voice whose laws are known, as the ground that edits of it stand on. One thread at a time.</summary>
internal sealed class ReadBase
{
    // What one half-width of a parameter that the laws leave out may do, cents (PathReach, CoreSurvey); an edit is many of them.
    private const double LeftOut = 1e-3;
    private const double MostLeftOut = 0.05; // cents

    private readonly Voice voice;
    private readonly CircuitDesign design;
    private readonly VoiceBuilds builds;
    private readonly HashSet<int> needed;

    /// <summary>For a voice as its files had it when the laws were read.</summary>
    public ReadBase(Voice voice, VoiceBuilds builds, int threads)
    {
        (this.voice, this.builds) = (voice, builds);
        design = builds.Voice.Circuit.Design;
        needed = [.. builds.Paths.Plans.SelectMany(plan => plan.Reach.Parameters), .. builds.Laws.SelectMany(law => law.Parameters)];
        Benches = [.. Enumerable.Range(0, threads).Select(_ => new BuildBench<Four>(builds))];
    }

    /// <summary>Benches that make builds of the voice and of every edit of it, one for each thread.</summary>
    public BuildBench<Four>[] Benches { get; }

    /// <summary>The voice after an edit, by the laws of this one; null where the edit is more than they tell: other parts, other
    /// wiring, a value that no build varies.</summary>
    public (VoiceBuilds Builds, double Doubt)? Edit(Voice edited, Stock stock)
    {
        PlayedVoice played = PlayedVoice.Of(edited);
        if (!IsSameOtherwise(played) || builds.AllDraws.About(DrawPlanner.Plan(played.Circuit, stock)) is not { } draws)
            return null;
        double doubt = Doubt(draws);
        return doubt <= MostLeftOut ? (builds.Edited(played, draws), doubt) : null;
    }

    private bool IsSameOtherwise(PlayedVoice edited) =>
        edited.Voice.Limits.ColdKelvin == voice.Limits.ColdKelvin
        && edited.Voice.Limits.WarmKelvin == voice.Limits.WarmKelvin
        && Prover.Notes(edited.Voice).SequenceEqual(Prover.Notes(voice))
        && edited.Oscillators.Length == builds.Voice.Oscillators.Length
        && edited.Oscillators.Zip(builds.Voice.Oscillators).All(pair => IsSame(pair.First, pair.Second))
        && edited.Circuit.Design.Parts.Length == design.Parts.Length
        && edited.Circuit.Design.Parts.Zip(design.Parts).All(pair => IsSame(pair.First, pair.Second));

    private static bool IsSame(Oscillator edited, Oscillator known) =>
        edited.Name == known.Name
        && edited.TimingCapacitor == known.TimingCapacitor
        && edited.Spec.Net == known.Spec.Net
        && edited.Spec.Level == known.Spec.Level
        && edited.Spec.Rising == known.Spec.Rising
        && edited.IdealHertz(0) == known.IdealHertz(0)
        && edited.IdealHertz(1) == known.IdealHertz(1)
        && edited.Member.Module.Trims.Select(trim => trim with { At = default }).SequenceEqual(known.Member.Module.Trims.Select(trim => trim with { At = default }));

    // Limits may differ, and every value that builds vary; pitch trimmers are set anew wherever they stand.
    private bool IsSame(Part edited, Part known)
    {
        if (edited.Name != known.Name || edited.Kind.Word != known.Kind.Word || !edited.Terminals.SequenceEqual(known.Terminals))
            return false;
        foreach ((string word, string text) in known.Texts)
            if (word != "spread" && edited.Texts.GetValueOrDefault(word) != text)
                return false;
        return edited.Numbers.Count == known.Numbers.Count && known.Numbers.All(pair => edited.Numbers.TryGetValue(pair.Key, out double value) && (value.Equals(pair.Value) || MayDiffer(known, pair.Key)));
    }

    private bool MayDiffer(Part part, string word) =>
        DrawPlanner.Draws(word)
        || word == "sigmas"
        || builds.AllDraws.Parameters.Any(p => p.Part.Name == part.Name && p.Word == word)
        || (word == "position" && builds.Paths.Trimmers.Any(trimmer => trimmer.Place.Bank.Parts[trimmer.Place.Index].Name == part.Name));

    // What the laws leave out is small for one half-width, and an edit may be many.
    private double Doubt(DrawPlan draws)
    {
        double doubt = 0;
        for (int p = 0; p < draws.Parameters.Length; p++)
            if (draws.Parameters[p].Offset != 0 && !needed.Contains(p))
                doubt += LeftOut * Math.Abs(draws.Parameters[p].Offset) / builds.AllDraws.Parameters[p].Terms.Sum(term => Math.Abs(term.HalfWidth));
        return doubt;
    }
}
