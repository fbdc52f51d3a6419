using Consort.Bench.Micro;

namespace Consort.Bench.Sound;

/// <summary>How many seconds of the quartet's four saws, as its circuits make them, a second of one processor's time renders.</summary>
internal static class SoundSpeed
{
    private const double Seconds = 10; // of sound in a turn
    private const int Turns = 25; // the first few run before the runtime has compiled them well

    public static void Run(Page page)
    {
        SoundBenchmarks sound = new();
        sound.Setup();
        page.Heading("Sound: speed");
        page.Line($"The quartet's four saws at 48 kHz through the whole renderer, one thread, fastest of {Turns}, times real time by the processor's time: a note held {Times(sound.Held):0}, gliding {Times(sound.Gliding):0}; with the noise of their parts {Times(sound.HeldNoisy):0} and {Times(sound.GlidingNoisy):0}.");
    }

    private static double Times(Func<float[]> render)
    {
        double best = double.PositiveInfinity;
        for (int turn = 0; turn < Turns; turn++)
        {
            Work work = Work.Begin();
            render();
            best = Math.Min(best, work.Seconds);
        }
        return Seconds / best;
    }
}
