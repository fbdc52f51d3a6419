using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Playing;
using Xunit;

namespace Consort.Tests.Sound.Sync;

/// <summary>Synced followers as they are rendered, against the whole circuit in motion, both up to 20 kHz.</summary>
[Trait("Runs", "Long")]
public sealed class SyncedSoundTests
{
    private const double A3 = 57;

    [Theory]
    [InlineData(2, 0, "triangle", -55)]
    [InlineData(2, 0, "pulse", -65)]
    [InlineData(2, 250, "triangle", -65)]
    [InlineData(2, -300, "sine", -65)]
    [InlineData(3, 0, "triangle", -75)]
    [InlineData(3, 700, "triangle", -65)]
    [InlineData(3, 700, "pulse", -48)]
    [InlineData(3, -500, "sine", -45)]
    public void The_pairs_second_sounds_as_its_circuit_does(int way, double cents, string output, double db) =>
        Near(SyncedPair.Of(way, cents), output, db);

    [Theory]
    [InlineData(2, -50, "saw", -75)]
    [InlineData(2, -50, "pulse", -50)]
    [InlineData(3, 0, "saw", -70)]
    [InlineData(3, 0, "pulse", -45)]
    [InlineData(3, 700, "pulse", -50)]
    [InlineData(3, 700, "saw", -70)]
    [InlineData(3, -500, "saw", -65)]
    [InlineData(3, 700, "sine", -70)]
    public void The_quartets_second_sounds_as_its_circuit_does(int way, double cents, string output, double db) =>
        Near(SyncedPair.Quartet(way, cents), output, db);

    private static void Near(PlayedVoice voice, string output, double db)
    {
        (double left, SolveFailure? failure) = CircuitResidual.Read(voice, "second", output, A3);
        Assert.Null(failure);
        Assert.InRange(left, -120, db);
    }
}
