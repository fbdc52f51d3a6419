using Consort.Engine.Circuit.Motion;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.PitchPath;

namespace Consort.Engine.Faults;

/// <summary>Reads what meters would show on a unit, sound or faulty, from its circuit in motion: a period of a middle note for
/// voltages and currents, two more notes for pitch. What the unit hangs on (keyboard, supply, a follower's lead) stands as it answers at
/// rest, as in <see cref="SoloOscillator"/>.</summary>
internal sealed class FigureReader
{
    private const int Crossings = 3; // one period to settle, one to read
    private const int MostSteps = 2500; // some twenty periods of a sound oscillator: a circuit that chatters is read as far as it came
    private const double DeadPeriods = 30; // of the ideal one: two at a tenth of the frequency; longer nobody waits
    private const double TrimmersWithin = 0.05, KnobsWithin = 0.01; // of their travel: set by eye to where the design has them

    private readonly Voice alone;
    private readonly Member member;
    private readonly Stock stock;
    private readonly string[] nets;
    private readonly string[] rails;

    /// <summary>Of one member of a voice that it is alone in.</summary>
    public FigureReader(Voice alone, Member member, Stock stock)
    {
        (this.alone, this.member, this.stock) = (alone, member, stock);
        nets = [.. member.Module.Circuit.SelectMany(part => part.Terminals).Select(joint => joint.Net).Where(net => net != CircuitDesign.Ground).Distinct().Order(StringComparer.Ordinal)];
        rails = [.. alone.Supply.Rails.Select(rail => rail.Name).Where(rail => SupplyWiring.Taps(member).Exists(tap => tap.Rail == rail))];
        PitchSpec law = member.Module.Pitch!;
        int octaves = (int)alone.Limits.Octaves, middle = octaves / 2;
        Notes = [.. ((int[])[middle, Math.Min(1, middle - 1), octaves - 1]).Distinct().Select(octave => alone.Limits.LowestVoltage + octave * law.VoltsPerOctave)];
        Figures =
        [
            .. nets.SelectMany(net => MeanState.Kinds.Select(kind => new UnitFigure(kind, net))),
            .. rails.Select(rail => new UnitFigure(FigureKind.Current, rail)),
            .. Notes.Select(note => new UnitFigure(FigureKind.Pitch, $"{note:0.##} V")),
        ];
    }

    /// <summary>Control voltages at which it is read, V; voltages and currents at the first.</summary>
    public double[] Notes { get; }

    /// <summary>What is read.</summary>
    public UnitFigure[] Figures { get; }

    /// <summary>The figures of the design with or without a fault, pitch in octaves above 1 Hz; NaN where the circuit has no answer, null
    /// when it has none at all.</summary>
    /// <param name="fault">The fault; null for none.</param>
    /// <param name="points">Where the parts' departures come from; null for the design.</param>
    /// <param name="number">Of the build.</param>
    public double[]? Read(Fault? fault, UnitPoints? points = null, long number = 0)
    {
        PlayedVoice played = PlayedVoice.Of(fault?.In(alone, member.Name) ?? alone);
        if (points is not null)
            Build(played, points, number);
        double[] figures = new double[Figures.Length];
        Array.Fill(figures, double.NaN);
        Piece? unit = null;
        for (int note = 0; note < Notes.Length; note++)
        {
            (RestState? rest, _) = played.RestFrom(Notes[note], null);
            if (rest is null)
                continue;
            unit ??= Cut(played, rest);
            if (unit.TakeSurroundings(rest) is { } x)
                Run(unit, x, note, figures);
        }
        return unit is null ? null : figures;
    }

    private Piece Cut(PlayedVoice played, RestState rest)
    {
        Piece unit = new(played.Circuit, member.Name, rest.X);
        unit.TakeParameters();
        return unit;
    }

    // Trimmers and knobs are drawn after all parts.
    private void Build(PlayedVoice played, UnitPoints points, long number)
    {
        DrawPlan plan = DrawPlanner.Plan(played.Circuit, stock);
        double[] departures = new double[plan.Parameters.Length];
        plan.Departures(points, number, 1, departures);
        CornerWeights.Build(played, plan, departures);
        double[] turned = new double[1];
        int next = plan.Variates.Length;
        foreach (Part part in played.Circuit.Design.Parts.Where(part => part.Kind.Word is "trimmer" or "potentiometer"))
        {
            points.Fill(next++, number, turned);
            double position = played.Circuit[part.Name, "position"], within = part.Kind.Word == "trimmer" ? TrimmersWithin : KnobsWithin;
            if (position is > 0 and < 1) // an end stop is met exactly
                played.Circuit[part.Name, "position"] = Math.Clamp(position + within * (2 * turned[0] - 1), 0, 1);
        }
    }

    private void Run(Piece unit, double[] x, int note, double[] figures)
    {
        PitchSpec law = member.Module.Pitch!;
        Probe probe = new(unit.Circuit.Net(MemberParts.Net(member.Name, law.Net)), law.Level, law.Rising);
        Transient run = new(unit.Circuit, Accuracy.Pitch.Taped, [probe]);
        MeanState mean = new(x.Length);
        run.Start(x);
        run.Accepted = mean.Add;
        double end = DeadPeriods / law.IdealHertz(Notes[note]);
        while (run.Time < end && run.Crossings.Count < Crossings && run.Steps < MostSteps && run.Step(end) is null)
            if (!mean.Counts && (run.Crossings.Count == Crossings - 1 || run.Time > 0.5 * end || run.Steps > MostSteps / 2))
                mean.Begin(run.Time, run.X);
        double? hertz = run.Crossings.Count >= Crossings ? 1 / (run.Crossings[^1].Time - run.Crossings[^2].Time) : run.Time >= end ? UnitFigure.Silent : null;
        figures[Figures.Length - Notes.Length + note] = hertz is { } read ? Math.Log2(Math.Max(UnitFigure.Silent, read)) : double.NaN;
        if (note == 0 && mean.Counts)
            Take(unit.Circuit, mean, figures);
    }

    private void Take(Engine.Circuit.Circuit circuit, MeanState mean, double[] figures)
    {
        int ground = circuit.Net(MemberParts.Net(member.Name, CircuitDesign.Ground));
        for (int i = 0; i < nets.Length; i++)
            if (circuit.Nets.TryGetValue(MemberParts.Net(member.Name, nets[i]), out int row))
                mean.Read(row, ground, figures.AsSpan(MeanState.Kinds.Length * i));
        for (int r = 0; r < rails.Length; r++)
            figures[MeanState.Kinds.Length * nets.Length + r] = SupplyWiring.Taps(member).Where(tap => tap.Rail == rails[r] && circuit.Has(tap.Name)).Sum(tap => Current(circuit, tap.Name, mean));
    }

    private static double Current(Engine.Circuit.Circuit circuit, string wire, MeanState mean)
    {
        Part part = circuit.Design.Parts.First(part => part.Name == wire);
        return Math.Abs(mean.Mean(circuit.Net(part.NetAt("from")!)) - mean.Mean(circuit.Net(part.NetAt("to")!))) / part.Number("value");
    }
}
