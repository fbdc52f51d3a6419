using Consort.Engine.Documents;
using Xunit;

namespace Consort.Tests.Documents;

public sealed class BeatPictureTests
{
    [Theory]
    [InlineData(new[] { 4.0, -63, double.NaN }, 0, 2)]
    [InlineData(new[] { 0.25, 140 }, -1, 3)] // a fifth beats faster than 100 Hz
    [InlineData(new[] { 0.0, 0.02 }, -3, -1)] // unison: a dip to the slowest beat that is drawn
    [InlineData(new[] { 10.0, 10 }, 1, 2)]
    [InlineData(new double[0], 0, 1)]
    public void The_scale_holds_every_beat_in_whole_decades(double[] beats, int low, int high) => Assert.Equal((low, high), BeatPicture.Decades(beats));
}
