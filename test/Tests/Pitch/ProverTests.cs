using Consort.Engine.Design;
using Consort.Engine.Documents;
using Consort.Engine.Pitch;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Pitch;

public sealed class ProverTests
{
    private static readonly Voice Voice = ToyVoice.OnMultiple(2, ToyVoice.Oscillator("toy", "100k"));

    [Fact]
    public void One_thread_and_two_give_the_same_bits()
    {
        (Proof? one, Unproved? why) = new Prover(1).Run(Voice, null, TestContext.Current.CancellationToken);
        (Proof? two, _) = new Prover(2).Run(Voice, null, TestContext.Current.CancellationToken);
        Assert.True(one is not null, why?.What);
        Assert.Equal(ProofJson.Write(one), ProofJson.Write(two!));
    }

    [Fact]
    public void A_whole_proof_of_the_pair_is_the_same_text_with_one_thread_and_with_two() => MustBeTheSameText("pair");

    // The ribbon to three followers, the chain and four oscillators in motion at once.
    [Fact]
    [Trait("Runs", "Long")]
    public void A_whole_proof_of_the_quartet_is_the_same_text_with_one_thread_and_with_two() => MustBeTheSameText("quartet");

    private static void MustBeTheSameText(string example)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Reference.Root, "examples", example));
        (Proof? one, Unproved? why) = new Prover(1).Run(voice!, null, TestContext.Current.CancellationToken);
        (Proof? two, _) = new Prover(2).Run(voice!, null, TestContext.Current.CancellationToken);
        Assert.True(one is not null, why?.What);
        Assert.Equal(ProofJson.Write(one), ProofJson.Write(two!));
    }

    [Fact]
    public void Loading_is_named_as_the_cause_when_nothing_else_errs()
    {
        (Proof? proof, Unproved? why) = new Prover(2).Run(Voice, null, TestContext.Current.CancellationToken);
        Assert.True(proof is not null, why?.What);
        Claim tracking = proof.Claims.First(claim => claim.Key == "tracking");
        Assert.False(tracking.Passed); // 23.5 cents a volt, and no trimmer to take it away
        BudgetLine largest = proof.Budgets[0].Lines[0];
        Assert.Equal((Cause.Loading, "keyboard/R"), (largest.Cause, largest.Part));
        // To first order the source's 1 kΩ costs 1200·2/102 cents a volt (checks B1): read at 3 V.
        int note = proof.Budgets[0].ControlVolts.IndexOf(3);
        Assert.Equal(-3 * 1200 * 2.0 / 102, largest.Cents[note], 0.02 * 70.6);
    }

    [Fact]
    public void What_no_part_cancels_of_kT_over_q_is_named_as_the_drifts_cause()
    {
        Voice voice = VoiceFolder.Read(Path.Combine(Reference.Root, "examples", "shoestring")).Item1!;
        (Proof? proof, Unproved? why) = new Prover(2).Run(voice, null, TestContext.Current.CancellationToken);
        Assert.True(proof is not null, why?.What);
        Claim drift = proof.Claims.First(claim => claim.Key == "drift");
        Assert.False(drift.Passed);
        Assert.Contains("kT/q", drift.Cause, StringComparison.Ordinal);
        // Its dead time is the rest of the error: a core without compensation (Franco 1974; checks C3, C4).
        Claim tracking = proof.Claims.First(claim => claim.Key == "tracking");
        Assert.Contains("reset of the core", tracking.Cause, StringComparison.Ordinal);
        Assert.Contains("dead time", tracking.Mend, StringComparison.Ordinal);
        // The split leaves next to nothing over where it names a cause: 18.3 cents are explained.
        Assert.All(proof.Budgets, budget => Assert.All(budget.UnexplainedCents, cents => Assert.InRange(cents, -1, 1)));
    }

    [Theory]
    [InlineData("2 cents", true)]
    [InlineData("4 cents", false)]
    public void A_bought_module_is_held_to_its_data_sheet(string tracking, bool passes)
    {
        Voice voice = ToyVoice.BesideBought(ToyVoice.Oscillator("toy", "100k"), "100k", tracking);
        (Proof? proof, Unproved? why) = new Prover(2).Run(voice, null, TestContext.Current.CancellationToken);
        Assert.True(proof is not null, why?.What);
        Claim bought = proof.Claims.First(claim => claim.Key == "bought");
        Assert.Equal(passes, bought.Passed);
        // Two inputs of 100 kΩ on 1 kΩ cost 23.5294118 cents an octave (checks B1) in a straight line: nothing bends.
        Assert.Equal(passes ? 2 : 4, bought.Figure, 1e-3);
        Assert.Contains("-23.5", bought.Why.Children[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_voice_without_oscillators_is_refused_with_a_mend()
    {
        (Proof? proof, Unproved? why) = new Prover(1).Run(Voice with { Members = [], Multiples = [], Cords = [] }, null, TestContext.Current.CancellationToken);
        Assert.Null(proof);
        Assert.Contains("no oscillator", why!.What, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("trimming", 1)]
    [InlineData("trimming", 2)]
    [InlineData("reading the keyboard", 2)]
    [InlineData("making builds, lengthening the chain, checking against the long way", 1)]
    [InlineData("making builds, lengthening the chain, checking against the long way", 2)]
    public void Cancelled_within_a_stage_it_ends_with_that_stage(string stage, int threads)
    {
        using CancellationTokenSource stop = new();
        StopAt progress = new(stage, stop);
        Assert.Throws<OperationCanceledException>(() => new Prover(threads) { Spread = new(Stock.Empty, 256) }.Run(Voice, progress, stop.Token));
        Assert.Equal(stage, progress.Last);
    }

    private sealed class StopAt(string stage, CancellationTokenSource stop) : IProgress<(string Stage, double Done)>
    {
        public string Last { get; private set; } = "";

        public void Report((string Stage, double Done) value)
        {
            Last = value.Stage;
            if (value.Stage == stage)
                stop.Cancel();
        }
    }
}
