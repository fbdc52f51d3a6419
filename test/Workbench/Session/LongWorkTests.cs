using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Live;
using Consort.Workbench.Session;
using Xunit;

namespace Consort.Workbench.Tests.Session;

/// <summary>Whatever becomes of work in the background, those who wait for it are told.</summary>
public sealed class LongWorkTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    [Theory]
    [InlineData(typeof(NullReferenceException))]
    [InlineData(typeof(IndexOutOfRangeException))]
    [InlineData(typeof(OperationCanceledException))] // by nobody who could have
    public async Task Work_that_breaks_in_any_way_says_so(Type fault)
    {
        using OpenCopy open = new();
        using LongWork<int, string> work = new(open.Session, (_, _, _, _) => throw (Exception)Activator.CreateInstance(fault)!);
        TaskCompletionSource told = new(TaskCreationOptions.RunContinuationsAsynchronously);
        using IDisposable watching = open.Session.Watch(() => told.TrySetResult());
        work.Ask(1);
        await told.Task.WaitAsync(Patience, TestContext.Current.CancellationToken);
        Assert.Null(work.State!.Working);
        Assert.Contains("a mistake of our own", work.State.Failure!.What, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_engine_that_breaks_in_any_way_says_so()
    {
        using OpenCopy open = new();
        TaskCompletionSource told = new(TaskCreationOptions.RunContinuationsAsynchronously);
        using VoiceSession session = open.Again(new Broken());
        using IDisposable watching = session.Watch(() =>
        {
            if (session.State.Failure is not null)
                told.TrySetResult();
        });
        Assert.Null(session.Set(new("voice.yaml", "limits", "drift"), "19 cents")); // the first answer may have come before it was watched
        await told.Task.WaitAsync(Patience, TestContext.Current.CancellationToken);
        Assert.Null(session.State.Working);
    }

    [Fact]
    public async Task Progress_alone_is_told_to_those_who_show_it()
    {
        using OpenCopy open = new();
        using SemaphoreSlim go = new(0);
        using VoiceSession session = open.Again(new Telling(go));
        List<(string? Stage, bool WithProgress)> told = [];
        TaskCompletionSource over = new(TaskCreationOptions.RunContinuationsAsynchronously);
        using IDisposable all = session.Watch(() => { lock (told) told.Add((session.State.Working?.Stage, true)); if (session.State.Working is null && told.Count > 1) over.TrySetResult(); }, withProgress: true);
        using IDisposable some = session.Watch(() => { lock (told) told.Add((session.State.Working?.Stage, false)); });
        go.Release();
        await over.Task.WaitAsync(Patience, TestContext.Current.CancellationToken);
        Assert.Equal([("first", true), ("second", true), (null, true)], told);
    }

    private sealed class Broken : ILiveEngine
    {
        public Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel) => throw new NotSupportedException();
    }

    private sealed class Telling(SemaphoreSlim go) : ILiveEngine
    {
        public Unproved? Answer(Voice voice, Stock stock, Action<LiveAnswer> tell, IProgress<(string Stage, double Done)> progress, CancellationToken cancel)
        {
            go.Wait(cancel);
            progress.Report(("first", 0));
            progress.Report(("second", 0.5));
            return null;
        }
    }
}
