using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;
using Consort.Workbench.Session;

namespace Consort.Workbench.Tests.Session;

/// <summary>Computes nothing: for what concerns the texts and the door alone.</summary>
internal sealed class SilentEngine : ILiveEngine
{
    public Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel) => null;
}
