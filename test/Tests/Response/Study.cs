using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Response;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Response;

/// <summary>Sheets of the toy's first oscillator at 400 Hz.</summary>
internal static class Study
{
    /// <param name="played">Another voice of that shape than the toy itself.</param>
    public static OscillatorResponse Of(string sheet, double swing = 5, int threads = 2, PlayedVoice? played = null)
    {
        (ResponsePlan? plan, ImmutableArray<WordFault> faults) = new ResponseWish(["o1"], [sheet], [], "2 V", swing).Understand(SoundingToy.Voice);
        Assert.Empty(faults);
        (ResponseBook? book, SolveFailure? failure) = ResponseStudy.Of(played ?? SoundingToy.Played, plan!, threads, cancel: TestContext.Current.CancellationToken);
        Assert.Null(failure);
        return book!.Oscillators[0];
    }
}
