using Consort.Engine.Pitch;
using Consort.Engine.Response;
using Consort.Tests.Sound;
using Xunit;

namespace Consort.Tests.Response;

public sealed class LevelSheetTests
{
    private static readonly Lazy<OscillatorResponse> Toy = new(() => Study.Of("levels"));

    private static LevelSheet Of(string output) => Assert.Single(Toy.Value.Levels, sheet => sheet.Output == output);

    [Fact]
    public void An_output_behind_a_known_resistance_is_a_divider()
    {
        // The comparator's output keeps 0.1 V from either supply: 4.8 V behind 100 Ω with 10 kΩ beside it, 4.752 V behind 99.01 Ω, each load then the lower arm of a divider. Contacts
        // and cord bring less than 0.2 Ω.
        const double Open = 4.8 * 10e3 / 10.1e3, Source = 100 * 10e3 / 10.1e3;
        LevelSheet pulse = Of("pulse");
        foreach (LevelPoint point in pulse.Points)
            Assert.Equal(double.IsFinite(point.Ohms) ? Open * point.Ohms / (point.Ohms + Source) : Open, point.PeakToPeak, 2e-3);
        Assert.Equal(Source, pulse.Ohms, 0.5);
        // High for half of the period but for 10 mV of hysteresis: about the middle of the supplies.
        Assert.Equal(2.5 * 10e3 / 10.1e3, pulse.Points[0].Mean, 0.01 * Open);
    }

    [Fact]
    public void A_supply_that_drifts_moves_the_level_as_worked_out_by_hand()
    {
        // The comparator's supply of 5 V drifts by 1000 ppm/K, its output keeps 0.1 V from either rail.
        PlayedVoice played = SoundingToy.Played.Twin();
        played.Circuit["o1/V2", "tempco"] = 1000e-6;
        LevelSheet pulse = Assert.Single(Study.Of("levels", played: played).Levels, sheet => sheet.Output == "pulse");
        Assert.Equal([25, 15, 35], pulse.Drifts.Select(drift => Math.Round(drift.Kelvin - 273.15)));
        foreach ((LevelDrift drift, double volts) in pulse.Drifts.Zip([5, 4.95, 5.05]))
            Assert.Equal((volts - 0.2) * 10e3 / 10.1e3, drift.PeakToPeak, 1e-3);
    }

    [Fact]
    public void A_load_that_an_oscillators_timing_capacitor_cannot_bear_stops_it_and_is_told()
    {
        // The saw's jack is the capacitor itself: 20 µA of charging current into 1 kΩ are 20 mV.
        Assert.True(double.IsNaN(Of("saw").Points[^1].PeakToPeak));
        Assert.True(Of("saw").Points[0].PeakToPeak > 4.9);
    }
}
