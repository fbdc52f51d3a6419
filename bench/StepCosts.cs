using System.Diagnostics;
using System.Globalization;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Design;
using Consort.Engine.Pitch;

namespace Consort.Bench;

/// <summary>What a step costs and what a cycle takes, for one oscillator of a voice at one note.</summary>
internal static class StepCosts
{
    private const int Trials = 20;
    private const int Count = 6; // cycles

    public static void Run(string folder, double volts)
    {
        (Voice? voice, _, _) = VoiceFolder.Read(folder);
        PlayedVoice played = PlayedVoice.Of(voice!);
        _ = played.Prepare();
        SoloOscillator solo = new(played, played.Oscillators[0]);
        _ = solo.Prepare(played.MiddleVolts);
        Circuit circuit = solo.Circuit;
        LuProgram program = circuit.MotionProgram!;
        Say($"{folder}, {solo.Oscillator.Name}: {circuit.Length - 1} unknowns, {circuit.Pattern.Slots - 1} slots, {program.Places} places, {program.Targets.Length} products, {solo.Oscillator.Member.Module.Name}");
        foreach (PartBank bank in circuit.Banks)
            if (bank.Count > 0)
                Console.Write($"{bank.GetType().Name} {bank.Count}; ");
        Console.WriteLine();
        foreach (Accuracy accuracy in (Accuracy[])[Accuracy.Pitch, Accuracy.Pitch.Taped])
            Cycles(solo, volts, accuracy);
        Passes(circuit, solo.Start(volts).X!);
    }

    // The fastest of some runs counts: what else the machine does only ever adds.
    private static void Cycles(SoloOscillator solo, double volts, Accuracy accuracy)
    {
        double best = double.PositiveInfinity;
        for (int trial = 1; trial < Trials; trial++)
            best = Math.Min(best, Follow(solo, volts, accuracy, null).Microseconds);
        List<double> lengths = [];
        Transient run = Follow(solo, volts, accuracy, lengths).Run;
        Say($"{run.Method.Name}: {run.Steps / Count:F0} steps a cycle, {run.Rejected / Count:F0} thrown away, {run.Passes / (double)run.Steps:F2} passes a step, {best / run.Steps:F1} µs a step, {best / run.Passes:F2} µs a pass, {best / Count:F0} µs a cycle, {run.Crossings.Count} crossings");
        double period = 1 / solo.Oscillator.IdealHertz(volts);
        int[] counts = new int[14];
        foreach (double h in lengths)
            counts[Math.Clamp((int)Math.Floor(-Math.Log10(h / period) * 2), 0, 13)]++;
        Console.WriteLine("steps by length (half decades of the period): " + string.Join(' ', counts.Select(c => c / Count)));
    }

    private static (Transient Run, double Microseconds) Follow(SoloOscillator solo, double volts, Accuracy accuracy, List<double>? lengths)
    {
        (double[]? x, _) = solo.Start(volts);
        Transient run = solo.Run(accuracy);
        run.Start(x!);
        double last = 0;
        if (lengths is not null)
            run.Accepted = (time, _) =>
            {
                lengths.Add(time - last);
                last = time;
            };
        Stopwatch watch = Stopwatch.StartNew();
        _ = run.RunTo(Count / solo.Oscillator.IdealHertz(volts));
        return (run, watch.Elapsed.TotalMicroseconds);
    }

    private static void Passes(Circuit circuit, double[] x)
    {
        const int Times = 20000;
        double[] matrix = new double[circuit.Pattern.Slots];
        double[] right = new double[circuit.Length];
        double[] answer = new double[circuit.Length];
        LuFactors<double> factors = new(circuit.MotionProgram!);
        x.CopyTo(circuit.Pass.X, 0);
        for (int trial = 0; trial < 3; trial++)
        {
            double evaluate = Time(Times, () => circuit.Evaluate(0, Regime.Motion));
            for (int i = 0; i < matrix.Length; i++)
                matrix[i] = circuit.Pass.G[i] + 1e7 * circuit.Pass.C[i];
            double factor = Time(Times, () => factors.Factor(matrix));
            double solve = Time(Times, () => factors.Solve(right, answer));
            Say($"evaluate {evaluate:F2}, factor {factor:F2}, solve {solve:F2} µs");
        }
        foreach (PartBank bank in circuit.Banks)
            if (bank.Count > 0)
                Console.Write($"{bank.GetType().Name} {bank.Count}: {Time(Times, () => bank.Stamp(circuit.Pass, 0, bank.Count)):F2}; ");
        Console.WriteLine();
    }

    private static double Time(int count, Action work)
    {
        Stopwatch watch = Stopwatch.StartNew();
        for (int i = 0; i < count; i++)
            work();
        return watch.Elapsed.TotalMicroseconds / count;
    }

    private static void Say(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
}
