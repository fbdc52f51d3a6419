using Dapper;
using Microsoft.Data.Sqlite;

namespace Consort.Engine.Bench.History;

/// <summary>Puts entries into the tables, within one transaction.</summary>
internal sealed class LogWriter(SqliteConnection connection, SqliteTransaction transaction)
{
    /// <summary>One entry, and its unit when it is new.</summary>
    public void Write(LogEntry entry)
    {
        long unit = Unit(entry.Unit);
        string time = LogTime.Text(entry.Time);
        switch (entry)
        {
            case SittingEntry sitting:
                Sitting(unit, time, sitting);
                break;
            case TrimEntry trim:
                Put("INSERT INTO trim (unit, time, trimmer, turned, position) VALUES (@unit, @time, @Trimmer, @Turned, @Position)",
                    new { unit, time, trim.Trimmer, trim.Turned, trim.Position });
                break;
            case FaultEntry fault:
                Put("INSERT INTO fault (unit, time, what, cause, mended) VALUES (@unit, @time, @What, @Cause, @Mended)",
                    new { unit, time, fault.What, fault.Cause, Mended = fault.Mended ? 1 : 0 });
                break;
            case SyncEntry sync:
                Sync(unit, time, sync);
                break;
            case NoteEntry note:
                Put("INSERT INTO note (unit, time, text) VALUES (@unit, @time, @Text)", new { unit, time, note.Text });
                break;
        }
    }

    private void Sitting(long unit, string time, SittingEntry entry)
    {
        long sitting = connection.ExecuteScalar<long>(
            """
            INSERT INTO sitting (unit, time, occasion, law_hertz, law_volts, law_volts_per_octave, clock_ratio, clock_uncertainty, clock_calibrated)
            VALUES (@unit, @time, @Occasion, @Hertz, @Volts, @VoltsPerOctave, @Ratio, @Uncertainty, @calibrated) RETURNING id
            """,
            new
            {
                unit, time, entry.Occasion, entry.Law.Hertz, entry.Law.Volts, entry.Law.VoltsPerOctave, entry.Clock.Ratio, entry.Clock.Uncertainty,
                calibrated = entry.Clock.IsCalibrated ? 1 : 0,
            },
            transaction
        );
        foreach (KeptReading r in entry.Readings)
            Put(
                """
                INSERT INTO reading (sitting, volts, volts_uncertainty, hertz, uncertainty, kelvin, origin,
                    signal_to_noise, drift_cents, shape, duty, distortion, volts_peak_to_peak, stands)
                VALUES (@sitting, @Volts, @VoltsUncertainty, @Hertz, @Uncertainty, @Kelvin, @From,
                    @SignalToNoise, @DriftCents, @Shape, @Duty, @Distortion, @VoltsPeakToPeak, @StandsText)
                """,
                new
                {
                    sitting, r.Volts, r.VoltsUncertainty, r.Hertz, r.Uncertainty, r.Kelvin, r.From,
                    r.SignalToNoise, r.DriftCents, r.Shape, r.Duty, r.Distortion, r.VoltsPeakToPeak, r.StandsText,
                }
            );
    }

    private void Sync(long unit, string time, SyncEntry entry) =>
        Put(
            """
            INSERT INTO sync (unit, time, occasion, origin, from_cents, to_cents, least_cents, lead_hertz,
                flat_cents, flat_uncertainty, flat_reached, sharp_cents, sharp_uncertainty, sharp_reached)
            VALUES (@unit, @time, @Occasion, @From, @FromCents, @ToCents, @LeastCents, @lead, @flat, @flatWithin, @flatReached, @sharp, @sharpWithin, @sharpReached)
            """,
            new
            {
                unit, time, entry.Occasion, entry.From, entry.FromCents, entry.ToCents, entry.LeastCents, lead = entry.Hold?.LeadHertz,
                flat = entry.Hold?.Flat.Cents, flatWithin = entry.Hold?.Flat.Uncertainty, flatReached = Whole(entry.Hold?.Flat.IsReached),
                sharp = entry.Hold?.Sharp.Cents, sharpWithin = entry.Hold?.Sharp.Uncertainty, sharpReached = Whole(entry.Hold?.Sharp.IsReached),
            }
        );

    private static int? Whole(bool? claim) => claim is { } known ? known ? 1 : 0 : null;

    private long Unit(UnitName unit)
    {
        Put("INSERT INTO unit (module, serial) VALUES (@Module, @Serial) ON CONFLICT DO NOTHING", new { unit.Module, unit.Serial });
        return connection.ExecuteScalar<long>("SELECT id FROM unit WHERE module = @Module AND serial = @Serial", new { unit.Module, unit.Serial }, transaction);
    }

    private void Put(string words, object values) => connection.Execute(words, values, transaction);
}
