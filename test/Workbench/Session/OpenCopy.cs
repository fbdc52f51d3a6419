using Consort.Workbench.Folder;
using Consort.Workbench.Session;

namespace Consort.Workbench.Tests.Session;

/// <summary>A session on a copy of an example, with a data folder of its own and a clock that stands.</summary>
internal sealed class OpenCopy : IDisposable
{
    private readonly DirectoryInfo data = Directory.CreateTempSubdirectory("consort-data-");

    public OpenCopy(string example = "pair", ILiveEngine? engine = null)
    {
        Copy = new(example);
        Session = Again(engine);
    }

    public OwnCopy Copy { get; }

    public VoiceSession Session { get; }

    public ClosedFolder Data => new(data.FullName);

    /// <summary>Another session on the same folder, as a later run opens it.</summary>
    public VoiceSession Again(ILiveEngine? engine = null) => new(new ClosedFolder(Copy.Path), engine ?? new SilentEngine(), Data, new StandingClock());

    public string OnDisk(string file) => File.ReadAllText(Copy.At(file));

    /// <summary>As an editor beside the browser does.</summary>
    public void WriteOnDisk(string file, string from, string to)
    {
        string text = OnDisk(file);
        if (!text.Contains(from, StringComparison.Ordinal))
            throw new ArgumentException($"{file} does not hold '{from}'");
        File.WriteAllText(Copy.At(file), text.Replace(from, to, StringComparison.Ordinal));
        File.SetLastWriteTimeUtc(Copy.At(file), File.GetLastWriteTimeUtc(Copy.At(file)).AddSeconds(2));
    }

    public void Dispose()
    {
        Session.Dispose();
        Copy.Dispose();
        data.Delete(recursive: true);
    }

    private sealed class StandingClock : TimeProvider
    {
        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => new Never();

        private sealed class Never : ITimer
        {
            public bool Change(TimeSpan dueTime, TimeSpan period) => true;

            public void Dispose() { }

            public ValueTask DisposeAsync() => default;
        }
    }
}
