namespace Consort.Engine.Pitch.Builds.Spread;

/// <summary>Shares out work among threads, each of which knows its number, so that it may keep what it works with.</summary>
internal static class ParallelWork
{
    /// <summary>Runs pieces 0 to count − 1; whoever is free takes the next.</summary>
    public static void Share(int count, int threads, Action<int, int> run)
    {
        int next = -1;
        void Work(int thread)
        {
            for (int piece = Interlocked.Increment(ref next); piece < count; piece = Interlocked.Increment(ref next))
                run(thread, piece);
        }
        if (threads == 1)
            Work(0);
        else
            Parallel.For(0, threads, new ParallelOptions { MaxDegreeOfParallelism = threads }, Work);
    }
}
