using System.Collections.Immutable;
using System.Text.Json;
using Consort.Engine.Design;
using Consort.Engine.Documents.Plans;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;
using Consort.Engine.Planning;
using Consort.Tests.Circuit;
using Consort.Tests.Cli;
using Xunit;

namespace Consort.Tests.Planning;

public sealed class PlannerTests
{
    // Three of the pair's oscillators: the full one is 100 mm wide, the follower 50 mm, three multiples in 50 mm.
    private const string Rack = """
        plan:
          oscillators: {first: 0 cents, second: +5 cents, third: -5 cents}
          wishes:
            - {player: keyboard, to: pitch}
            - {player: wheel, to: transpose}
            - {player: slow wave, to: pwm, only: [first, third]}
        players:
          keyboard: {plays: pitch, resistance: 470, from: 0 V, to: 9 V}
          wheel: {plays: fixed, resistance: 1k, at: 0 V}
          slow wave: {plays: fixed, resistance: 1k, at: 0 V}

        """;

    private const string ThreeInOne = "multiples:\n  - {multiple: passive, ways: 3, sections: 3, width: 50 mm, depth: 20 mm, price: 30}\n";

    private static readonly Lazy<WiringPlan> Racked = new(() => Of(PlannedPair(Rack, ThreeInOne + "  - {multiple: buffered, ways: 4, width: 60 mm, depth: 30 mm, offset within: 1 mV, current: 8 mA, price: 39}\n"), isWhole: true));

    [Fact]
    public void Three_oscillators_on_multiples_take_eleven_cords_and_350_mm_and_linked_three_and_200_mm()
    {
        // Common practice, no source: three oscillators on 1-in/3-out multiples, keyboard and wheel to all, an LFO to the
        // width of two: (1+3) + (1+3) + (1+2) cords; 3·100 + 50 mm. With one lead 3 cords, 100 + 2·50 mm.
        Alternative patched = Patched(Racked.Value), linked = Racked.Value.Alternatives.Single(one => one.Multiples == 0);
        Assert.Equal((11, 3), (patched.Cords, patched.Multiples));
        Assert.Equal(0.350, patched.WidthMetres, 12);
        Assert.Equal(3, linked.Cords);
        Assert.Equal(0.200, linked.WidthMetres, 12);
        Assert.True(linked.IsUnbeaten);
        Assert.Contains("slow wave reaches pwm of second too", string.Join(' ', linked.Extra), StringComparison.Ordinal);
        Assert.Empty(patched.Extra);
    }

    [Fact]
    public void Loading_moves_pitch_as_a_divider_does()
    {
        // n inputs of 100k on 470 ohm: V/V0 = (Rin/n)/(Rin/n + Rout) (Norton; any circuit theory text). Alone the same
        // input has a source without resistance; the error grows with the control voltage and is largest at the top.
        Alternative patched = Patched(Racked.Value);
        double top = patched.Voice.Limits.LowestVoltage + Math.Floor(patched.Voice.Limits.Octaves);
        double share = (100e3 / 3) / ((100e3 / 3) + 470);
        // The scale is as the file's trimmer has it, within a hundredth of a volt an octave: a hundredth of the error.
        Assert.Equal(1200 * top * (share - 1), patched.Pitch.MovedCents, 1.0);
    }

    [Fact]
    public void Each_way_has_its_yield_and_its_lock_range()
    {
        Assert.All(Racked.Value.Alternatives, one =>
        {
            Assert.Equal(256, one.Builds!.Yield!.Value.Of);
            // Neighbours five cents off, on one supply: they feel each other, and far less than they stand apart.
            Assert.InRange(one.Lock!.Widest!.Width, 1e-6, 5);
        });
        // As the proof of that voice has them, whose notes are more and whose trims are finer.
        Alternative linked = Racked.Value.Alternatives.Single(one => one.Multiples == 0);
        (Proof? proof, _) = new Prover(2) { Spread = new(Shelf, 256) }.Run(linked.Voice, null, TestContext.Current.CancellationToken);
        Expect.Within(proof!.Spread!.Yield.Share, linked.Builds!.Yield!.Value.Share, 0.06); // two standard errors of a share of 256
    }

    [Fact]
    public void A_follower_is_compared_with_its_own_lead()
    {
        using PlannedFolder folder = PlannedPair("""
            plan:
              oscillators: {first: 0 cents, second: 0 cents, third: 0 cents, fourth: 0 cents}
              wishes: [{player: keyboard, to: pitch}]
            players:
              keyboard: {plays: pitch, resistance: 470, from: 0 V, to: 9 V}

            """, ThreeInOne);
        Voice voice = Drawn(folder).Values.Single(one => one.Voice.Ribbons.Length == 2).Voice;
        // One lead and its follower are a hundred cents sharp, the others are not; nobody is off its own lead.
        string[] sharp = [voice.Ribbons[1].From.Owner, voice.Ribbons[1].To[0].Owner];
        ImmutableArray<TrackingCurve> curves = [.. voice.Members.Select(member => new TrackingCurve(member.Name, Prover.BenchKelvin, [new(1, 100, 100, sharp.Contains(member.Name) ? 100 : 0)]))];
        Assert.Equal(0, LiveFigure.Of(voice, curves).Single(figure => figure.Key == "followers").Cents);
    }

    [Fact]
    public void None_that_is_marked_is_beaten_and_each_other_is()
    {
        foreach (Alternative one in Racked.Value.Alternatives)
        {
            bool isBeaten = Racked.Value.Alternatives.Any(other => other != one && other.Counts.Zip(one.Counts).All(pair => pair.First <= pair.Second + 1e-9) && other.Counts.Zip(one.Counts).Any(pair => pair.First < pair.Second - 1e-9));
            Assert.Equal(!isBeaten, one.IsUnbeaten);
        }
        Assert.All(Racked.Value.Alternatives, one => Assert.EndsWith(".", one.Sentence, StringComparison.Ordinal));
        Assert.Equal(Racked.Value.Alternatives.Length, Racked.Value.Alternatives.Select(one => one.Sentence).Distinct().Count());
    }

    [Fact]
    public void A_way_that_is_written_reads_back_as_a_voice_with_the_same_wiring()
    {
        foreach (Alternative one in Racked.Value.Alternatives)
        {
            using PlannedFolder folder = PlannedPair(Rack, ThreeInOne);
            File.WriteAllText(Path.Combine(folder.Path, "voice.yaml"), VoiceText.Write(one));
            (Voice? voice, _, ImmutableArray<InputError> errors) = VoiceFolder.Read(folder.Path);
            Assert.Empty(errors.Where(error => !error.IsNote).Select(error => error.Render()));
            Assert.Equal(one.Voice.Cords.Select(cord => (cord.From, cord.To, Math.Round(cord.Length, 9))), voice!.Cords.Select(cord => (cord.From, cord.To, Math.Round(cord.Length, 9))));
            Assert.Equal(one.Voice.Ribbons.Select(ribbon => $"{ribbon.From} {string.Join(' ', ribbon.To)} {ribbon.Length:0.000} {ribbon.Gauge}"), voice.Ribbons.Select(ribbon => $"{ribbon.From} {string.Join(' ', ribbon.To)} {ribbon.Length:0.000} {ribbon.Gauge}"));
            Assert.Equal(one.Voice.Members.Select(member => (member.Name, member.Module.Name, member.StandsCents)), voice.Members.Select(member => (member.Name, member.Module.Name, member.StandsCents)));
            Assert.Equal(one.Voice.Multiples.Select(multiple => multiple with { At = SourceSpan.None, Width = Math.Round(multiple.Width, 12) }), voice.Multiples.Select(multiple => multiple with { At = SourceSpan.None, Width = Math.Round(multiple.Width, 12) }));
            Assert.Equal(one.Voice.Limits, voice.Limits with { Followers = one.Voice.Limits.Followers });
        }
    }

    [Fact]
    public void The_json_holds_every_way_and_its_names_stand_in_the_page()
    {
        JsonElement json = JsonDocument.Parse(PlanJson.Write(Racked.Value)).RootElement;
        Assert.Equal(("consort plan", 1), (json.GetProperty("shape").GetString(), json.GetProperty("version").GetInt32()));
        Assert.Equal(Racked.Value.Alternatives.Length, json.GetProperty("alternatives").GetArrayLength());
        JsonPage.Names(json);
    }

    [Fact]
    public void Two_leads_are_chosen_so_that_what_two_oscillators_share_stays_between_them()
    {
        // The outer two share a slow envelope: with the outer two on one link nobody else gets it.
        using PlannedFolder folder = PlannedPair("""
            plan:
              oscillators: {first: -1200 cents, second: +498 cents, third: +5 cents, fourth: 0 cents}
              wishes:
                - {player: keyboard, to: pitch}
                - {player: slow wave, to: pwm, only: [first, fourth]}
            players:
              keyboard: {plays: pitch, resistance: 470, from: 0 V, to: 9 V}
              slow wave: {plays: fixed, resistance: 1k, at: 0 V}

            """, ThreeInOne);
        Wired[] ways = [.. Drawn(folder).Values];
        Wired two = ways.Single(one => one.Voice.Ribbons.Length == 2);
        // A lead's own interval would reach its followers: of each two the one nearer to the voice's pitch leads.
        Assert.Equal(["third/couple to second/couple", "fourth/couple to first/couple"], two.Voice.Ribbons.Select(ribbon => $"{ribbon.From} to {ribbon.To.Single()}"));
        Assert.Empty(two.Extra);
        Assert.Equal(["fourth", "first", "third", "second"], two.Voice.Members.Select(member => member.Name)); // beside their leads
        Assert.Equal((4, 1), (two.Voice.Cords.Length, two.Voice.Multiples.Length)); // 1 + 2 for the pitch, 1 for the envelope
        Assert.NotEmpty(ways.Single(one => one.Voice.Ribbons.Length == 1).Extra);
    }

    [Fact]
    public void A_wide_interval_is_set_by_the_controls_and_one_out_of_their_reach_is_told()
    {
        using PlannedFolder folder = PlannedPair("""
            plan:
              oscillators: {low: -1000 cents, plain: 0 cents}
              wishes: [{player: keyboard, to: pitch}]
            players:
              keyboard: {plays: pitch, resistance: 470, from: 0 V, to: 9 V}

            """, ThreeInOne);
        Voice voice = VoiceFolder.Read(folder.Path).Voice!;
        IntervalSetting intervals = new(voice);
        Dictionary<string, Wired> ways = Drawn(folder);
        Wired patched = intervals.Of(ways.Single(way => way.Key.EndsWith("passive multiples", StringComparison.Ordinal)).Value);
        Assert.Empty(patched.Unmet);
        // The coarse knob covers an octave either way, -5 V to +5 V into 499k beside 100k: 1000 cents down is a twelfth of
        // its way up.
        Member low = patched.Voice.Members.Single(member => member.Name == "low");
        Assert.Equal(1 / 12.0, low.Set["P1"], 0.01);
        Assert.Equal(-1000, 1200 * Math.Log2(Hertz(voice, low) / Hertz(voice, low with { Set = low.Set.Clear() })), 5.0);
        // The follower has a fine knob only.
        Wired linked = intervals.Of(ways.Single(way => way.Key.EndsWith("on its link", StringComparison.Ordinal)).Value);
        Assert.Contains("low stands at", Assert.Single(linked.Unmet), StringComparison.Ordinal);
        Assert.InRange(linked.Voice.Members.Single(member => member.Name == "low").StandsCents, -200, -80);
    }

    private static double Hertz(Voice voice, Member member)
    {
        PlayedVoice played = PlayedVoice.Of(AloneReadings.Alone(voice, member, null, null));
        Assert.Null(played.Prepare());
        SoloOscillator solo = new(played, played.Oscillators[0]);
        Assert.Null(solo.Prepare(played.MiddleVolts));
        return solo.Read(3).Hertz;
    }

    [Fact]
    public void A_module_that_passes_its_pitch_on_is_chained_without_a_multiple()
    {
        using PlannedFolder folder = Chained();
        Wired chain = Drawn(folder).Single(way => way.Key.EndsWith("outputs chained", StringComparison.Ordinal)).Value;
        Assert.Equal(["keyboard/out to first/pitch", "first/pitch on to second/pitch", "second/pitch on to third/pitch"], chain.Voice.Cords.Select(cord => $"{cord.From} to {cord.To}"));
        Assert.Empty(chain.Voice.Multiples);
    }

    [Fact]
    [Trait("Runs", "Long")]
    public void A_chain_of_passive_jacks_loads_the_keyboard_as_a_passive_multiple_does()
    {
        WiringPlan plan = Of(Chained());
        Alternative chain = plan.Alternatives.Single(one => one.Name.EndsWith("outputs chained", StringComparison.Ordinal));
        Assert.Equal(Patched(plan).Pitch.MovedCents, chain.Pitch.MovedCents, 0.5);
    }

    [Fact]
    [Trait("Runs", "Long")]
    public void Two_threads_find_the_same_bits_as_one()
    {
        using PlannedFolder folder = PlannedPair(Rack, ThreeInOne);
        string[] found = [.. new[] { 1, 2 }.Select(threads => PlanJson.Write(Of(folder.Path, threads)))];
        Assert.Equal(found[0], found[1]);
    }

    [Fact]
    [Trait("Runs", "Long")]
    public void The_quartet_has_six_ways_with_every_figure()
    {
        WiringPlan plan = Of(Path.Combine(Golden.Root, "examples", "quartet"), 2);
        Assert.Equal(6, plan.Alternatives.Length);
        Assert.All(plan.Alternatives, one => Assert.All(one.Counts, count => Assert.True(double.IsFinite(count), one.Name)));
        Assert.Contains(plan.Alternatives, one => one.Case.Warnings.Any(warning => warning.Contains("2 rows and the case has 1", StringComparison.Ordinal)));
    }

    private static Alternative Patched(WiringPlan plan) => plan.Alternatives.Single(one => one.Name.EndsWith("lead, passive multiples", StringComparison.Ordinal) && one.Voice.Ribbons.IsEmpty);

    private static PlannedFolder Chained()
    {
        PlannedFolder folder = PlannedPair("""
            plan:
              oscillators: {first: 0 cents, second: +5 cents, third: -5 cents}
              wishes: [{player: keyboard, to: pitch}]
            players:
              keyboard: {plays: pitch, resistance: 470, from: 0 V, to: 9 V}

            """, ThreeInOne);
        folder.Change("modules/pair-lead.yaml", "trims:\n", "passes: {pitch: pitch on}\ntrims:\n");
        folder.Change("modules/pair-lead.yaml", "  J2: {jack: input", "  J9: {jack: output, label: pitch on, tip: pitch in}\n  J2: {jack: input");
        folder.Change("modules/pair-lead.yaml", "    J5: {at:", "    J9: {at: [50 mm, 172 mm], fits: jack 6.35 mm}\n    J5: {at:");
        return folder;
    }

    // The ways as they are wired, before anything is computed.
    private static Dictionary<string, Wired> Drawn(PlannedFolder folder)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = VoiceFolder.Read(folder.Path);
        Assert.Empty(errors.Where(error => !error.IsNote).Select(error => error.Render()));
        LinkBook links = new(voice!.Supply);
        Intent intent = Intent.Of(voice, links);
        Builder builder = new(voice, intent, stock!.Multiples, links);
        return Scheme.All(intent, VoiceFolder.Modules(folder.Path), links).Schemes.Select(scheme => (scheme.Name, Wired: builder.Build(scheme))).Where(way => way.Wired is not null).ToDictionary(way => way.Name, way => way.Wired!);
    }

    private static PlannedFolder PlannedPair(string plan, string multiples) => new("pair", plan, multiples);

    private static WiringPlan Of(PlannedFolder folder, bool isWhole = false)
    {
        using (folder)
            return Of(folder.Path, 1, isWhole);
    }

    private static Stock Shelf => VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair")).Stock!;

    private static WiringPlan Of(string folder, int threads, bool isWhole = false)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = VoiceFolder.Read(folder);
        Assert.Empty(errors.Where(error => !error.IsNote).Select(error => error.Render()));
        (WiringPlan? plan, Unproved? failure) = new Planner(voice!, VoiceFolder.Modules(folder), stock!, PartsLibrary.BuiltIn, threads) { Spread = isWhole ? new(stock!, 256) : null, Locks = isWhole }.Run(cancel: TestContext.Current.CancellationToken);
        Assert.True(plan is not null, failure?.What);
        return plan;
    }
}
