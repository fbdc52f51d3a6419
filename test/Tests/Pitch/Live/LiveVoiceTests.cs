using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Pitch.Live;

public sealed class LiveVoiceTests
{
    private static readonly (Voice Voice, Stock Stock) Pair = Read();

    private static (Voice, Stock) Read()
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "pair"));
        return (voice!, stock!);
    }

    // The laws of the pair as it is: no test goes on to a proof with it.
    private static readonly Lazy<LiveVoice> Known = new(() =>
    {
        LiveVoice live = new(2) { Pause = 0, Builds = 512, EstimatedBuilds = 512 };
        List<AnswerKind> kinds = [];
        Assert.Null(live.Answer(Pair.Voice, Pair.Stock, answer => kinds.Add(answer.Kind)));
        Assert.Equal([AnswerKind.Read, AnswerKind.Read, AnswerKind.Proved], kinds);
        return live;
    });

    // All answers up to the last of a kind.
    private static List<LiveAnswer> Ask(LiveVoice live, Voice voice, AnswerKind last)
    {
        List<LiveAnswer> answers = [];
        using CancellationTokenSource enough = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        try
        {
            live.Answer(voice, Pair.Stock, Take, null, enough.Token);
        }
        catch (OperationCanceledException)
        {
            // asked for
        }
        return answers;

        void Take(LiveAnswer answer)
        {
            answers.Add(answer);
            bool isLast = answer.Kind == last && (last != AnswerKind.Estimate || answers.Count == 3) && (last != AnswerKind.Read || answer.Proof is not null);
            if (isLast && last != AnswerKind.Proved)
                enough.Cancel();
        }
    }

    // The follower's resistors and capacitors are its own, so one oscillator of the two is edited.
    private static Voice Edited(string word, params (string Part, double Factor)[] edits)
    {
        Module module = Pair.Voice.Members[1].Module;
        return Pair.Voice.With(module, module.With(word, edits.ToDictionary(e => e.Part, e => e.Factor * module.Circuit.First(p => p.Name == e.Part).Number(word))));
    }

    // A part that no build of the pair has: a second compensation capacitor beside the follower's first.
    private static Voice WithOneMore()
    {
        Module module = Pair.Voice.Members[1].Module;
        return Pair.Voice.With(module, module with { Circuit = module.Circuit.Add(module.Circuit.First(part => part.Name == "C4") with { Name = "C99" }) });
    }

    [Fact]
    public void Edits_of_values_are_estimated_at_once_and_read_to_be_within_a_fiftieth_of_a_cent_of_it()
    {
        // The scaling resistor and the timing capacitor: trimming takes up nearly all of it.
        Voice edited = Edited("value", ("R7", 1.01), ("C5", 0.98));
        List<LiveAnswer> answers = Ask(Known.Value, edited, AnswerKind.Read);
        Assert.Equal([AnswerKind.Estimate, AnswerKind.Estimate, AnswerKind.Estimate, AnswerKind.Read, AnswerKind.Read], answers.Select(answer => answer.Kind));
        foreach ((TrackingCurve estimated, TrackingCurve read) in answers[0].Tracking.Zip(answers[3].Tracking))
        {
            Assert.Equal((estimated.Oscillator, estimated.Kelvin), (read.Oscillator, read.Kelvin));
            Assert.All(estimated.Points.Zip(read.Points), pair => Expect.Within(pair.Second.Cents, pair.First.Cents, 0.02));
        }
        // It did something: the trimmers moved, and as the whole circuit's did.
        List<LiveAnswer> before = Ask(Known.Value, Pair.Voice, AnswerKind.Estimate);
        Assert.Contains(answers[4].Trims.Zip(before[0].Trims), pair => Math.Abs(pair.First.Position - pair.Second.Position) > 0.05);
        Assert.All(answers[0].Figures.Zip(answers[3].Figures), pair => Expect.Within(pair.Second.Cents, pair.First.Cents, 0.02));
        Assert.All(answers[0].Trims.Zip(answers[4].Trims), pair => Expect.Within(pair.Second.Position, pair.First.Position, 1e-3));
        Assert.Contains("so far lay within 0.0", before[0].Sureness, StringComparison.Ordinal);
    }

    [Fact]
    public void Wider_tolerances_show_in_the_estimated_yield_as_they_do_when_the_voice_is_read_anew()
    {
        Voice wide = Edited("drift", ("R7", 20), ("R12", 20), ("C5", 20));
        double before = Ask(Known.Value, Pair.Voice, AnswerKind.Estimate)[2].Yield!.Value.Share;
        double estimated = Ask(Known.Value, wide, AnswerKind.Estimate)[2].Yield!.Value.Share;
        Assert.True(before - estimated > 0.1, $"{before} before, {estimated} estimated");
        LiveVoice anew = new(2) { Builds = 512 };
        // 512 builds of one seed, drawn alike but for the order of their dimensions: two standard errors of a share are 4 %.
        Expect.Within(Ask(anew, wide, AnswerKind.Proved)[^1].Yield!.Value.Share, estimated, 0.06);
    }

    [Fact]
    public void Its_figures_are_those_of_the_proof()
    {
        LiveAnswer read = Ask(Known.Value, Edited("value", ("R7", 1.002)), AnswerKind.Read)[^1];
        Assert.Equal(3, read.Figures.Length);
        Assert.All(read.Figures, figure =>
        {
            Claim claim = read.Proof!.Claims.First(c => c.Key == figure.Key);
            Assert.Equal((claim.Figure, claim.Limit, claim.Passed), (figure.Cents, figure.Limit, figure.Passed));
        });
    }

    [Fact]
    public void What_the_laws_do_not_tell_is_not_estimated()
    {
        Assert.Equal(AnswerKind.Read, Ask(Known.Value, WithOneMore(), AnswerKind.Read)[0].Kind);
        // It was learnt on the way, and what is taken back is still known.
        Assert.Equal(AnswerKind.Estimate, Ask(Known.Value, WithOneMore(), AnswerKind.Estimate)[0].Kind);
        Assert.Equal(AnswerKind.Estimate, Ask(Known.Value, Pair.Voice, AnswerKind.Estimate)[0].Kind);
    }

    [Fact]
    public void Other_limits_are_judged_at_once()
    {
        LiveAnswer answer = Ask(Known.Value, Pair.Voice with { Limits = Pair.Voice.Limits with { TrackingCents = 1e-3 } }, AnswerKind.Estimate)[0];
        Assert.False(answer.Figures.First(figure => figure.Key == "tracking").Passed);
    }

    [Fact]
    public void Another_interval_is_estimated_and_read_to_be_within_a_fiftieth_of_a_cent_of_it()
    {
        Voice moved = Pair.Voice with { Members = Pair.Voice.Members.SetItem(1, Pair.Voice.Members[1] with { StandsCents = Pair.Voice.Members[1].StandsCents + 7 }) };
        List<LiveAnswer> answers = Ask(Known.Value, moved, AnswerKind.Read);
        Assert.Equal(AnswerKind.Estimate, answers[0].Kind);
        foreach ((TrackingCurve estimated, TrackingCurve read) in answers[0].Tracking.Zip(answers[3].Tracking))
            Assert.All(estimated.Points.Zip(read.Points), pair =>
            {
                Assert.Equal(pair.Second.IdealHertz, pair.First.IdealHertz);
                Expect.Within(pair.Second.Cents, pair.First.Cents, 0.02);
            });
        // Its own trimmer took the seven cents up, and is where the whole circuit's came to stand.
        Assert.All(answers[0].Trims.Zip(answers[4].Trims), pair => Expect.Within(pair.Second.Position, pair.First.Position, 1e-3));
        Assert.Contains(answers[0].Trims.Zip(Ask(Known.Value, Pair.Voice, AnswerKind.Estimate)[0].Trims), pair => Math.Abs(pair.First.Position - pair.Second.Position) > 1e-3);
    }

    [Fact]
    public async Task Laws_that_a_later_edit_needs_are_learnt_although_their_question_is_no_longer_asked()
    {
        using LiveVoice live = new(2) { Pause = 0, Builds = 512, EstimatedBuilds = 512 };
        using CancellationTokenSource first = new();
        Task<Unproved?> unasked = Task.Run(() => live.Answer(Pair.Voice, Pair.Stock, _ => { }, new AtOnce(first.Cancel), first.Token), TestContext.Current.CancellationToken);
        while (!first.IsCancellationRequested)
            await Task.Delay(1, TestContext.Current.CancellationToken);
        Assert.Equal(AnswerKind.Estimate, Ask(live, Edited("value", ("R7", 1.002)), AnswerKind.Estimate)[0].Kind);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => unasked); // not proved to the end
    }

    [Fact]
    public async Task Laws_that_a_later_edit_does_not_need_are_no_longer_learnt()
    {
        using LiveVoice live = new(2) { Pause = 0, Builds = 512 };
        using CancellationTokenSource first = new();
        List<AnswerKind> told = [];
        Task<Unproved?> unasked = Task.Run(() => live.Answer(Pair.Voice, Pair.Stock, answer => told.Add(answer.Kind), new AtOnce(first.Cancel), first.Token), TestContext.Current.CancellationToken);
        while (!first.IsCancellationRequested)
            await Task.Delay(1, TestContext.Current.CancellationToken);
        Assert.Equal(AnswerKind.Read, Ask(live, WithOneMore(), AnswerKind.Read)[0].Kind);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => unasked);
        Assert.DoesNotContain(AnswerKind.Proved, told);
    }

    private sealed class AtOnce(Action told) : IProgress<(string Stage, double Done)>
    {
        public void Report((string Stage, double Done) value) => told();
    }

    [Fact]
    public void A_cancelled_question_ends_and_the_next_one_is_answered()
    {
        using CancellationTokenSource stop = new();
        Assert.Throws<OperationCanceledException>(() => Known.Value.Answer(Pair.Voice, Pair.Stock, _ => stop.Cancel(), null, stop.Token));
        Assert.Equal(3, Ask(Known.Value, Pair.Voice, AnswerKind.Estimate).Count);
    }
}
