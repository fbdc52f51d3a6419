using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Laws;

namespace Consort.Engine.Response;

/// <summary>One oscillator in its full circuit, with one thing that moves it, read period by period at rest of that thing.</summary>
internal sealed class DrivenOscillator
{
    /// <summary>Slower than this share of the pitch played is read as stopped.</summary>
    public const double Slowest = 1.0 / 50;

    private readonly PlayedVoice voice;
    private readonly SoloOscillator solo;
    private readonly PeriodReader reader;
    private readonly double volts;

    private DrivenOscillator(PlayedVoice voice, SoloOscillator solo, PeriodReader reader, double volts) =>
        (this.voice, this.solo, this.reader, this.volts) = (voice, solo, reader, volts);

    /// <summary>Makes it ready.</summary>
    /// <param name="ready">Trimmed, its controls where they are to stand; it is left alone.</param>
    /// <param name="oscillator">Its name.</param>
    /// <param name="drive">What moves it; null: nothing.</param>
    /// <param name="outputs">Labels of its jacks that are looked at.</param>
    /// <param name="volts">On the keyboard, V.</param>
    /// <param name="wired">The voice's wiring, when it is another than that of <paramref name="ready"/>.</param>
    public static (DrivenOscillator? Driven, SolveFailure? Failure) Of(
        PlayedVoice ready,
        string oscillator,
        Drive? drive,
        ImmutableArray<string> outputs,
        double volts,
        Voice? wired = null
    )
    {
        (PlayedVoice? voice, SolveFailure? failure) = Wired(ready, drive, wired ?? ready.Voice);
        if (voice is null)
            return (null, failure);
        SoloOscillator solo = new(voice, voice.Oscillators.First(one => one.Name == oscillator));
        if (solo.Prepare(volts) is { } unready)
            return (null, unready);
        return (new(voice, solo, new(voice, solo, outputs.Select(output => $"{oscillator}/{output}")) { Patience = 4 / Slowest }, volts), null);
    }

    /// <summary>The voice with the drive's source plugged in and its depth opened, every other part as it stands.</summary>
    public static (PlayedVoice? Voice, SolveFailure? Failure) Wired(PlayedVoice ready, Drive? drive, Voice wired)
    {
        PlayedVoice voice = PlayedVoice.Of(drive is { IsJack: true } ? drive.PluggedInto(wired) : wired, ready.Cancel);
        TakeNumbers(ready, voice);
        if (drive?.Depth is { } depth)
            voice.Circuit[$"{drive.Owner}/{depth.Part}", "position"] = depth.Open;
        voice.Circuit.SetTemperature(ready.Circuit.Temperature);
        return voice.Prepare() is { } failure ? (null, failure) : (voice, null);
    }

    // Trimmers, and every part of a build.
    private static void TakeNumbers(PlayedVoice from, PlayedVoice to)
    {
        foreach (PartBank bank in to.Circuit.Banks)
            for (int i = 0; i < bank.Count; i++)
            {
                if (!from.Circuit.Has(bank.Parts[i].Name))
                    continue;
                PartPlace place = from.Circuit.Find(bank.Parts[i].Name);
                foreach (string word in bank.Words.Intersect(place.Bank.Words))
                    bank.Numbers(word)[i] = place.Bank.Numbers(word)[place.Index];
            }
    }

    /// <summary>Moves one parameter of one part.</summary>
    public void Set(string part, string word, double value)
    {
        voice.Circuit[part, word] = value;
        if (solo.Circuit.Has(part))
            solo.Circuit[part, word] = value;
    }

    /// <summary>One parameter of one part.</summary>
    public double Get(string part, string word) => voice.Circuit[part, word];

    /// <summary>Brings all of it to a temperature, K.</summary>
    public void BringTo(double kelvin)
    {
        voice.Circuit.SetTemperature(kelvin);
        solo.TakeParameters();
    }

    /// <summary>Reads something at each temperature, and stays at the last.</summary>
    public (ImmutableArray<T> Read, SolveFailure? Failure) AtEach<T>(ImmutableArray<double> kelvins, Func<double, (T? Read, SolveFailure? Failure)> read)
        where T : class
    {
        List<T> all = [];
        foreach (double kelvin in kelvins)
        {
            BringTo(kelvin);
            (T? one, SolveFailure? failure) = read(kelvin);
            if (one is null)
                return ([], failure);
            all.Add(one);
        }
        return ([.. all], null);
    }

    /// <summary>One steady period with the drive at a value; the frequency is NaN where it does not oscillate.</summary>
    public (SteadyPeriod? Period, SolveFailure? Failure) At(Drive drive, double value)
    {
        Set(drive.IsJack ? $"{Drive.Source}/V" : $"{drive.Owner}/{drive.Part}", drive.IsJack ? "value" : "position", value);
        return Read();
    }

    /// <summary>One steady period as everything stands.</summary>
    public (SteadyPeriod? Period, SolveFailure? Failure) Read() => reader.At(volts);
}
