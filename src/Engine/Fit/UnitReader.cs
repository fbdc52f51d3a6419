using Consort.Engine.Pitch.Builds;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Fit;

/// <summary>Pitch errors of a unit, given the numbers of its prior and its trimmers. One thread at a time.</summary>
internal sealed class UnitReader
{
    private const double Move = 0.5; // of a deviation: where the slope by a part is taken
    private const double Turn = 0.02; // of the travel: where the slope by a trimmer is taken

    private readonly UnitModel model;
    private readonly BuildReader<Four> reader;
    private readonly Four[] departures;
    private readonly Four[] positions;
    private readonly double[] before;
    private readonly double[] lanes = new double[Four.Count];

    public UnitReader(UnitModel model)
    {
        this.model = model;
        reader = model.Builds.Reader<Four>(model.Oscillator);
        departures = new Four[model.Builds.Draws.Parameters.Length];
        before = new double[departures.Length];
        positions = new Four[model.Builds.Paths.Trimmers.Length];
        for (int t = 0; t < positions.Length; t++)
            positions[t] = Four.Of(model.Builds.Paths.Trimmers[t].Place.Bank.Numbers("position")[model.Builds.Paths.Trimmers[t].Place.Index]);
    }

    /// <summary>Numbers of the prior, without trimmers.</summary>
    public int Latents => model.Prior.Latents.Length;

    /// <summary>Trimmers that set its pitch.</summary>
    public int Trimmers => model.Sheet.Count;

    /// <summary>Pitch errors at all notes of one temperature, cents.</summary>
    public double[] Cents(ReadOnlySpan<double> latents, ReadOnlySpan<double> stand, int k)
    {
        Depart(latents);
        for (int p = 0; p < departures.Length; p++)
            departures[p] = Four.Of(before[p]);
        for (int t = 0; t < stand.Length; t++)
            positions[model.Sheet.Trimmers[t]] = Four.Of(Math.Clamp(stand[t], 0, 1));
        double[] cents = new double[model.Volts.Length];
        Read(k, (n, _, value) => cents[n] = value, 1);
        return cents;
    }

    /// <summary>Slopes of those by every number, then by every trimmer's position: row by note.</summary>
    public double[][] Slopes(ReadOnlySpan<double> latents, ReadOnlySpan<double> stand, int k)
    {
        double[] here = Cents(latents, stand, k);
        int count = Latents + Trimmers;
        double[][] slopes = [.. here.Select(_ => new double[count])];
        double[] positionsNow = stand.ToArray();
        for (int first = 0; first < count; first += Four.Count)
        {
            int lanesUsed = Math.Min(Four.Count, count - first);
            Lay(first, lanesUsed, positionsNow);
            Read(k, (n, lane, value) => slopes[n][first + lane] = Slope(value - here[n], Moved(first + lane, positionsNow)), lanesUsed);
        }
        return slopes;
    }

    // A move that stops the oscillator says nothing of a slope.
    private static double Slope(double cents, double by) => !double.IsFinite(cents) ? 0 : cents / by;

    private double Moved(int variable, double[] stand) => variable < Latents ? Move : Math.Clamp(stand[variable - Latents], 0, 1) > 0.5 ? -Turn : Turn;

    // One lane moves one variable.
    private void Lay(int first, int count, double[] stand)
    {
        for (int p = 0; p < departures.Length; p++)
            departures[p] = Four.Of(before[p]);
        for (int t = 0; t < stand.Length; t++)
            positions[model.Sheet.Trimmers[t]] = Four.Of(Math.Clamp(stand[t], 0, 1));
        for (int lane = 0; lane < count; lane++)
        {
            int variable = first + lane;
            if (variable < Latents)
                foreach ((int parameter, double weight) in model.Prior.Weights[variable])
                    Nudge(ref departures[parameter], lane, Move * weight);
            else
                Nudge(ref positions[model.Sheet.Trimmers[variable - Latents]], lane, Moved(variable, stand));
        }
    }

    private void Nudge(ref Four value, int lane, double by)
    {
        Four.Store(value, lanes);
        lanes[lane] += by;
        value = Four.From(lanes);
    }

    private void Depart(ReadOnlySpan<double> latents)
    {
        Array.Clear(before);
        for (int v = 0; v < latents.Length; v++)
            foreach ((int parameter, double weight) in model.Prior.Weights[v])
                before[parameter] += weight * latents[v];
    }

    private void Read(int k, Action<int, int, double> take, int count)
    {
        reader.Take(departures);
        reader.SetTemperature(k);
        reader.Turn(positions);
        for (int n = 0; n < model.Volts.Length; n++)
        {
            Four.Store(reader.Cents(n), lanes);
            for (int lane = 0; lane < count; lane++)
                take(n, lane, lanes[lane]);
        }
    }
}
