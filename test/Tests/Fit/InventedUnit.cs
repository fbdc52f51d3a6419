using System.Collections.Immutable;
using Consort.Engine.Fit;
using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Tests.Invented;

/// <summary>How a unit is unlike what its design foretells.</summary>
/// <param name="Parts">All departures are so many times those of the spread.</param>
/// <param name="Bend">Cents at two octaves from the middle by a law that no part has, growing with the square.</param>
internal readonly record struct Unlikeness(double Parts, double Bend);

/// <summary>A unit whose parts are known, with a person's hand and tuner at it.</summary>
internal sealed class InventedUnit
{
    private readonly UnitModel model;
    private readonly BuildReader<One> reader;
    private readonly One[] positions;
    private readonly RandomBits noise;
    private readonly double bend;
    private readonly WholeUnit? whole;
    private ulong drawn;

    /// <summary>By its number.</summary>
    /// <param name="isWhole">True: read from full transients, not by the model that the fit has too.</param>
    public InventedUnit(UnitModel model, ulong seed, long number, Unlikeness unlike, bool isWhole = false)
    {
        this.model = model;
        bend = unlike.Bend;
        reader = model.Builds.Reader<One>(model.Oscillator);
        double[] departures = new double[model.Builds.Draws.Parameters.Length];
        model.Builds.Draws.Departures(new RandomPoints(seed), number, 1, departures);
        string own = $"{model.Place.Member.Name}/";
        reader.Take([.. departures.Select((d, p) => new One(model.Builds.Draws.Parameters[p].Part.Name.StartsWith(own, StringComparison.Ordinal) ? unlike.Parts * d : 0))]);
        reader.SetTemperature(0);
        positions = [.. model.Builds.Paths.Trimmers.Select(t => new One(t.Place.Bank.Numbers("position")[t.Place.Index]))];
        whole = isWhole ? new(model, seed, number, unlike, own) : null;
        noise = new RandomBits(seed + 77).Stream((ulong)number);
        for (int j = 0; j < Trimmers; j++)
            Turn(j, 0.5);
    }

    public int Trimmers => model.Sheet.Count;

    public double Stand(int j) => positions[model.Sheet.Trimmers[j]].Value;

    public void Turn(int j, double to)
    {
        double step = model.Sheet.Resolution[j];
        Set(j, Math.Clamp(Math.Round(Math.Clamp(to, 0, 1) / step) * step, 0, 1));
    }

    /// <summary>True pitch error at a note, cents.</summary>
    public double Cents(int n)
    {
        double octaves = (model.Volts[n] - model.Volts[model.Volts.Length / 2]) / 2;
        return (whole?.Cents(n) ?? reader.Cents(n).Value) + bend * octaves * octaves;
    }

    public double Worst() => model.Asked.Max(n => Math.Abs(Cents(n)));

    public double Normal() => NormalLaw.Quantile(RandomBits.Share(noise.At(drawn++)));

    /// <summary>Turns until a tuner shows so many cents.</summary>
    public void TurnUntil(int j, Func<double> read, double cents, double tuner)
    {
        double aim = cents + tuner * Normal();
        for (int pass = 0; pass < 12; pass++)
        {
            double at = Stand(j), move = at > 0.5 ? -0.02 : 0.02, here = read();
            Set(j, at + move);
            double slope = (read() - here) / move;
            double to = Math.Abs(slope) < 1e-6 ? at : Math.Clamp(at + (aim - here) / slope, 0, 1);
            Set(j, to);
            if (Math.Abs(to - at) < Near)
                break;
        }
        Turn(j, Stand(j));
    }

    private void Set(int j, double to)
    {
        positions[model.Sheet.Trimmers[j]] = new(to);
        reader.Turn(positions);
        whole?.Turn(j, to);
    }

    // A transient's pitch is good to some thousandths of a cent, far less than a trimmer's finest step.
    private double Near => whole is null ? 1e-6 : 1e-4;

    /// <summary>Readings at every note, with their noise and turns since the beginning as a person counts them.</summary>
    public IEnumerable<UnitPoint> Read(double deviation, double[] counted) =>
        Enumerable.Range(0, model.Volts.Length).Select(n => new UnitPoint(model.Volts[n], Cents(n) + deviation * Normal(), deviation, 0, [.. counted]) { Places = [.. Enumerable.Range(0, Trimmers).Select(Stop)] });

    // A hand feels a stop; where between them a trimmer stands it does not know.
    private double? Stop(int j) => Stand(j) < 0.5 * model.Sheet.Resolution[j] ? 0 : Stand(j) > 1 - 0.5 * model.Sheet.Resolution[j] ? 1 : null;
}
