using Consort.Engine.Bench.History;
using Xunit;

namespace Consort.Tests.Measuring.History;

public sealed class UnitDriftTests
{
    [Fact]
    public void A_unit_that_rises_two_cents_a_year_is_found_to()
    {
        LogEntry[] entries = [.. Enumerable.Range(0, 4).Select(i => Entries.Sitting(Entries.Lead, Entries.Noon.AddDays(i * 365.25 / 2), cents: i))];
        UnitDrift drift = UnitDrift.Of(entries);
        Assert.Equal(2, drift.CentsPerYear!.Value, 1e-9);
        // Slope over times 0, ½, 1, 1½ years with u each: u/√(Σ(t−t̄)²) = u/√1.25 (Gauss).
        Assert.Equal(drift.Sittings[0].Uncertainty / Math.Sqrt(1.25), drift.Uncertainty!.Value, 1e-6);
    }

    [Fact]
    public void What_a_trim_moved_is_no_drift()
    {
        LogEntry[] entries =
        [
            Entries.Sitting(Entries.Lead, Entries.Noon, cents: 40),
            new TrimEntry(Entries.Lead, Entries.Noon.AddMinutes(1), "RV2", 1, null),
            Entries.Sitting(Entries.Lead, Entries.Noon.AddMinutes(2), cents: 0.5),
            Entries.Sitting(Entries.Lead, Entries.Noon.AddDays(365.25).AddMinutes(2), cents: -0.5),
        ];
        UnitDrift drift = UnitDrift.Of(entries);
        Assert.Equal(2, drift.Sittings.Length);
        Assert.Equal(-1, drift.CentsPerYear!.Value, 1e-9);
    }

    [Fact]
    public void Only_voltages_that_all_sittings_have_are_compared()
    {
        LogEntry[] entries = [Entries.Sitting(Entries.Lead, Entries.Noon, readings: 5), Entries.Sitting(Entries.Lead, Entries.Noon.AddDays(9), readings: 2)];
        Assert.Equal([-1, 0], UnitDrift.Of(entries).CommonVolts);
        Assert.Null(UnitDrift.Of([entries[0]]).CentsPerYear);
    }
}
