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
        for (int trial = 0; trial < 3; trial++)
            Cycle(solo, volts);
        Passes(circuit, solo.Start(volts).X!);
    }

    private static void Cycle(SoloOscillator solo, double volts)
    {
        (double[]? x, _) = solo.Start(volts);
        Transient run = solo.Run();
        run.Start(x!);
        double period = 1 / solo.Oscillator.IdealHertz(volts);
        List<double> lengths = [];
        double last = 0;
        run.Accepted = (time, _) =>
        {
            lengths.Add(time - last);
            last = time;
        };
        Stopwatch watch = Stopwatch.StartNew();
        _ = run.RunTo(6 * period);
        double taken = watch.Elapsed.TotalMicroseconds;
        Say($"{run.Steps / 6.0:F0} steps a cycle, {run.Rejected / 6.0:F0} thrown away, {run.Passes / (double)run.Steps:F2} passes a step, {taken / run.Steps:F1} µs a step, {taken / run.Passes:F2} µs a pass, {taken / 6:F0} µs a cycle, {run.Crossings.Count} crossings");
        int[] counts = new int[14];
        foreach (double h in lengths)
            counts[Math.Clamp((int)Math.Floor(-Math.Log10(h / period) * 2), 0, 13)]++;
        Console.WriteLine("steps by length (half decades of the period): " + string.Join(' ', counts.Select(c => c / 6)));
    }

    private static void Passes(Circuit circuit, double[] x)
    {
        const int Count = 20000;
        double[] matrix = new double[circuit.Pattern.Slots];
        double[] right = new double[circuit.Length];
        double[] answer = new double[circuit.Length];
        LuFactors<double> factors = new(circuit.MotionProgram!);
        x.CopyTo(circuit.Pass.X, 0);
        for (int trial = 0; trial < 3; trial++)
        {
            double evaluate = Time(Count, () => circuit.Evaluate(0, Regime.Motion));
            for (int i = 0; i < matrix.Length; i++)
                matrix[i] = circuit.Pass.G[i] + 1e7 * circuit.Pass.C[i];
            double factor = Time(Count, () => factors.Factor(matrix));
            double solve = Time(Count, () => factors.Solve(right, answer));
            Say($"evaluate {evaluate:F2}, factor {factor:F2}, solve {solve:F2} µs");
        }
        foreach (PartBank bank in circuit.Banks)
            if (bank.Count > 0)
                Console.Write($"{bank.GetType().Name} {bank.Count}: {Time(Count, () => bank.Stamp(circuit.Pass, 0, bank.Count)):F2}; ");
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
