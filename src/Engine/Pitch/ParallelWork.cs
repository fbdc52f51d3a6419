namespace Consort.Engine.Pitch;

/// <summary>Shares out work among threads.</summary>
internal static class ParallelWork
{
    /// <summary>Runs pieces 0 to count − 1. A piece that gives up because of <paramref name="cancel"/> ends all of them with one
    /// <see cref="OperationCanceledException"/>.</summary>
    public static void Each(int count, int threads, Action<int> run, CancellationToken cancel) =>
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancel }, run);

    /// <summary>Runs works that need nothing of each other: what one leaves idle the others take.</summary>
    public static void Together(int threads, CancellationToken cancel, params Action[] works)
    {
        if (threads > 1)
            Parallel.Invoke(new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancel }, works);
        else
            foreach (Action work in works)
                work();
    }

    /// <summary>Takes works in the order in which they come, so many at a time.</summary>
    public static TaskFactory Queue(int threads, CancellationToken cancel) =>
        new(cancel, TaskCreationOptions.None, TaskContinuationOptions.None, new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, threads).ConcurrentScheduler);

    /// <summary>Runs pieces 0 to count − 1, each told the number of its thread, so that a thread may keep what it works with;
    /// whoever is free takes the next.</summary>
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
