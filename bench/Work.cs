namespace Consort.Bench;

/// <summary>A clock that counts the time for which a processor worked for this program: what others do on the machine
/// lengthens a day, not this.</summary>
internal readonly struct Work
{
    private readonly TimeSpan start;

    private Work(TimeSpan start) => this.start = start;

    /// <summary>From now.</summary>
    public static Work Begin() => new(Environment.CpuUsage.TotalTime);

    /// <summary>Since then, s, over all threads.</summary>
    public double Seconds => (Environment.CpuUsage.TotalTime - start).TotalSeconds;
}
