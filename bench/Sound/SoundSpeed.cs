using Consort.Bench.Micro;
using Consort.Engine.Sound.Laws;

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
        page.Line($"A key's wave is made of its octaves, once, in {1e3 * SecondsAKey(sound):0.00} ms: that of the keys of an octave around C3, their tables included.");
    }

    private static double SecondsAKey(SoundBenchmarks sound)
    {
        const int Keys = 12;
        const int LowKey = 42; // below what was played
        const int Level = 6; // about which one is heard
        SoundLaw[] laws = [.. sound.Laws];
        Work work = Work.Begin();
        for (int key = LowKey; key < LowKey + Keys; key++)
            foreach (SoundLaw law in laws)
                law.Waves.Values.First().At(LawReader.VoltsOf(law.Oscillator, key)).Rest!.Entries(Level);
        return work.Seconds / (Keys * laws.Length);
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
