using Consort.Engine.Circuit;
using Consort.Engine.Pitch;
using Consort.Engine.Sound.Drift;
using Consort.Engine.Sound.Playing;
using Consort.Tests.Circuit;
using Xunit;

namespace Consort.Tests.Sound.Drift;

/// <summary>Pitch that moves with the temperature of the parts.</summary>
public sealed class DriftTests
{
    private const double Warm = Constants.ReferenceTemperature;

    [Fact]
    public void After_one_time_constant_a_part_has_63_percent_of_its_rise_behind_it()
    {
        // Newton's law of cooling: 1 − 1/e.
        TemperatureCourse course = new([(0, Warm)], Rise: 8, TimeConstant: 300);
        Expect.Within(Warm - 8, course.KelvinAt(0), 1e-9);
        Expect.Within(Warm - 8 / Math.E, course.KelvinAt(300), 1e-9);
        Expect.Within(Warm - 8 / Math.E, (course with { OnFor = 300 }).KelvinAt(0), 1e-9);
    }

    [Fact]
    public void Temperatures_of_a_course_lie_on_straight_lines_between_its_moments_and_stay_beyond_them()
    {
        TemperatureCourse course = new([(10, 290), (20, 300)]);
        Assert.Equal([290, 290, 295, 300, 300], ((double[])[0, 10, 15, 20, 99]).Select(course.KelvinAt));
        Assert.Equal((290, 295), course.Range(15));
    }

    [Fact]
    public void A_drift_law_is_the_parabola_through_what_was_read()
    {
        DriftLaw law = new([288, 298, 308], [(0, [1, 0, 3]), (2, [2, 0, 6])]);
        Expect.Within(3, law.Cents(308, -1), 1e-12);
        Expect.Within(4.5, law.Cents(308, 1), 1e-12);
        // y = 0.1·t + 0.02·t² through (−10, 1), (0, 0), (10, 3).
        Expect.Within(0.1 * 5 + 0.02 * 25, law.Cents(303, 0), 1e-12);
    }

    [Fact]
    public void A_capacitors_temperature_coefficient_is_heard_as_pitch()
    {
        // f ~ 1/C: +300 ppm/K over 10 K is 1200·log2(1/1.003) = −5.186 cents. The delays of 400 ns do not drift: at 110 Hz they
        // are 4e-5 of it.
        PlayedVoice voice = SoundingToy.Played.Twin();
        voice.Circuit["o1/C1", "tempco"] = 300e-6;
        voice.Circuit.SetTemperature(Warm);
        SoundSettings settings = new(Score.Read(["A2 5 s"]).Score!, [new("o1", "saw", 1, -1, 0)], [], Attack: 1e-3, Release: 1e-3)
        {
            Course = new([(2, Warm), (4, Warm + 10)]),
        };
        (Rendering? sound, SolveFailure? failure) = Rendering.Of(voice, settings, 2, null, TestContext.Current.CancellationToken);
        Assert.True(sound is not null, failure?.ToString());
        double told = 1200 * Math.Log2(1 / 1.003);
        double volts = Math.Log2(110 / 100.0);
        Expect.Within(told, sound.Laws[0].Drift!.Cents(Warm + 10, volts), 1e-3);
        // From a second on, when the mixer's coupling capacitor has settled.
        double before = Heard(sound.Left, 48_000, 47_000), after = Heard(sound.Left, 194_000, 44_000);
        Expect.Within(told, 1200 * Math.Log2(after / before), 0.01);
    }

    // Mean frequency from falling edges of a saw, joined in time by the samples beside each.
    private static double Heard(float[] sound, int from, int count)
    {
        double[] falls = [.. Enumerable.Range(from, count).Where(n => sound[n] < 0 && sound[n + 1] >= 0).Select(n => n - sound[n] / (double)(sound[n + 1] - sound[n]))];
        return (falls.Length - 1) / (falls[^1] - falls[0]) * 48_000;
    }
}
