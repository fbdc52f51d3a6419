using System.Collections.Immutable;
using System.CommandLine;
using Consort.Engine.Design;
using Consort.Engine.Quantities;
using Consort.Engine.Sound.Drift;

namespace Consort.Cli.Verbs;

/// <summary>What <c>listen</c> is told of noise and of temperature during the piece.</summary>
/// <param name="HasNoise">Whether the parts' noise is played.</param>
/// <param name="Rise">By how much parts come up after power-on, K; null: they are warm.</param>
/// <param name="TimeConstant">With which they do, s; null: the usual one.</param>
/// <param name="OnFor">For how long it has been on, s.</param>
/// <param name="Course">Moments and temperatures, as written.</param>
internal sealed record UnrestRequest(bool HasNoise, double? Rise, double? TimeConstant, double? OnFor, ImmutableArray<string> Course)
{
    /// <summary>None of it.</summary>
    public static UnrestRequest None { get; } = new(false, null, null, null, []);

    /// <summary>The course; null when parts stay as warm as they are.</summary>
    /// <param name="kelvin">Temperature of the parts when they are warm, K.</param>
    public TemperatureCourse? Read(double kelvin, List<WordFault> faults)
    {
        List<(double Seconds, double Kelvin)> points = [];
        foreach (string text in Course)
        {
            string[] words = text.Split('=', 2, StringSplitOptions.TrimEntries);
            if (words.Length < 2
                || !Quantity.TryRead(words[0], Dimension.Time, bare: false, out double seconds, out _)
                || !Quantity.TryRead(words[1], Dimension.Temperature, bare: false, out double at, out _))
                faults.Add(new($"'{text}' cannot be understood", "write a moment and a temperature, as \"0 s=20 °C, 1 min=30 °C\""));
            else if (VoiceInput.Temperature(at) is { } wrong)
                faults.Add(new($"'{words[1]}' {wrong}", "write a temperature that parts can stand"));
            else if (seconds < 0 || (points.Count > 0 && seconds <= points[^1].Seconds))
                faults.Add(new($"'{words[0]}' does not come after the moment before it", "write moments in their order, from 0 s on"));
            else
                points.Add((seconds, at));
        }
        if (Rise is null && Course.IsEmpty)
            return null;
        return new([.. points.Count > 0 ? points : [(0, kelvin)]], Rise ?? 0, TimeConstant ?? TemperatureCourse.UsualTimeConstant, OnFor ?? 0);
    }
}

/// <summary>The options that say so.</summary>
internal sealed class UnrestInput
{
    private const double MostRise = 60; // K

    private readonly Option<bool> noise = new("--noise") { Description = "Play the noise of the circuits' parts: jitter and wander of the pitch, and the outputs' noise floor; drawn from --seed." };
    private readonly Option<double?> rise = VoiceInput.Value("--warm-up", "RISE", Dimension.TemperatureStep, "Play from power-on: parts begin so much colder than they end, as \"8 K\".",
        value => value is >= 0 and <= MostRise ? null : "is no rise of 0 K to 60 K");
    private readonly Option<double?> timeConstant = VoiceInput.Value("--warm-up-time", "T", Dimension.Time, "Time constant of that; left out: 10 min (common practice, no source).", VoiceInput.AboveZero);
    private readonly Option<double?> onFor = VoiceInput.Value("--on-for", "T", Dimension.Time, "For how long it has been on when the piece begins; left out: 0 s.", VoiceInput.NotNegative);
    private readonly Option<string[]> course = VoiceInput.Words("--temperature-course", "LIST", "Temperatures of all parts during the piece, as \"0 s=20 °C, 1 min=30 °C\"; straight lines between.");

    /// <summary>All of them, in the order in which help shows them.</summary>
    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[noise, rise, timeConstant, onFor, course])
            command.Add(option);
        command.Validators.Add(result =>
        {
            if (result.GetValue(rise) is null && (result.GetValue(timeConstant) is not null || result.GetValue(onFor) is not null))
                result.AddError("--warm-up-time and --on-for go with --warm-up");
        });
    }

    /// <summary>What was given.</summary>
    public UnrestRequest Of(ParseResult parsed) =>
        new(parsed.GetValue(noise), parsed.GetValue(rise), parsed.GetValue(timeConstant), parsed.GetValue(onFor), VoiceInput.Split(parsed.GetValue(course)));
}
