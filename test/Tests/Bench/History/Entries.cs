using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.History;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Measuring.History;

/// <summary>Entries for the tests, in a folder of their own.</summary>
internal sealed class Entries : IDisposable
{
    public static readonly UnitName Lead = new("lead", "0007");
    public static readonly DateTimeOffset Noon = new(2026, 3, 1, 12, 0, 0, 123, TimeSpan.Zero);

    private readonly string folder = Directory.CreateTempSubdirectory("consort-history-").FullName;

    public string File(string name = UnitLog.FileName) => Path.Combine(folder, name);

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>Numbers that no short decimal is.</summary>
    public static SittingEntry Sitting(UnitName unit, DateTimeOffset time, int readings = 3, double cents = 0) =>
        new(unit, time, "as built", new(261.6255653005986, 0, 1), new RecorderClock(1 + Math.PI * 1e-6, 1e-7 / 3, true),
        [
            .. Enumerable.Range(0, readings).Select(i =>
                new KeptReading(i - 1, 1e-4 / Math.Sqrt(3), 261.6255653005986 * Math.Pow(2, i - 1 + cents / 1200), 1e-5 * Math.E, i == 1 ? null : 296.15 + i / 7.0, $"take {i}.wav at 0.50 s")
                {
                    SignalToNoise = i == 0 ? null : 61 + 1.0 / 3, Shape = i == 0 ? null : "saw", Duty = null, Distortion = 0.1 + 0.2,
                    Stands = i == 1 ? ImmutableDictionary<string, TrimmerStand>.Empty : ImmutableDictionary<string, TrimmerStand>.Empty.Add("RV2", new(1 / 3.0, 0)).Add("RV3", new(null, -1.5)), DriftCents = -1e-5 / 3,
                }),
        ]);

    /// <summary>One of each kind, with all that a file format could trip over.</summary>
    public static ImmutableArray<LogEntry> Every() =>
        [
            Sitting(Lead, Noon),
            new SyncEntry(Lead, Noon.AddSeconds(20), "as built", "sweep, up.wav", -60.1 / 3, 1e-5 * Math.E, 4.25, new(261.6255653005986, new(-8 / 3.0, 0.1 + 0.2, true), new(1 / 3.0, Math.PI, false))),
            new SyncEntry(Lead, Noon.AddSeconds(30), null, "sweep.wav", -60, 60, 4.25, null),
            new TrimEntry(Lead, Noon.AddMinutes(1), "RV2", -1.5, null),
            new TrimEntry(Lead, Noon.AddMinutes(2), "RV3", null, 1 / 3.0),
            new FaultEntry(Lead, Noon.AddMinutes(3), "=no output, \"dead\"", "cold joint;\nat U2", Mended: false),
            new FaultEntry(Lead, Noon.AddMinutes(4), "no output", null, Mended: true),
            new NoteEntry(new("follower", "a.b-c_1"), Noon.AddMinutes(5), "-5 °C in the shed: true"),
            new NoteEntry(Lead, Noon.AddMinutes(6), "null"),
            Sitting(new("follower", "a.b-c_1"), Noon.AddMinutes(7), readings: 1) with { Occasion = null },
        ];

    public static string[] Words(IEnumerable<LogEntry> entries) => [.. entries.Select(LogRow.Whole)];

    public static UnitLog Open(string file)
    {
        (UnitLog? log, InputError? error) = UnitLog.Open(file);
        Assert.Null(error);
        return log!;
    }

    public static ImmutableArray<LogEntry> Read(string file)
    {
        using UnitLog log = Open(file);
        (ImmutableArray<LogEntry> entries, InputError? error) = log.Entries();
        Assert.Null(error);
        return entries;
    }
}
