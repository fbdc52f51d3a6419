using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Voltage references and three-terminal regulators: a voltage behind a resistance with a current limit, which follows
/// the input down when the headroom is gone and never goes below the return. The stated value holds with an input 5 V above
/// the output; line rejection counts from there. A negative value is a negative regulator. The supply current flows from
/// input to return; a current pushed into the output goes to the return. Left out: dynamics (output capacitors are parts of
/// their own), thermal shutdown, foldback.
/// </summary>
internal sealed class RegulatorBank : PartBank
{
    private const double Width = 0.02;
    private const double StatedExcess = 5;
    private const double Bend = 1e-5;
    private const double Awake = 1.5;

    private struct Law
    {
        public double Sign,
            Voltage,
            PerLine,
            Headroom,
            SupplyCurrent;
        public LimitedOutput Output;
    }

    private readonly int[] input;
    private readonly int[] output;
    private readonly int[] ground;
    private readonly int[][] slots;
    private readonly Law[] laws;
    private readonly double[] last;

    public RegulatorBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        input = [.. parts.Select(part => at.Net(part, "in"))];
        output = [.. parts.Select(part => at.Net(part, "out"))];
        ground = [.. parts.Select(part => at.Net(part, "ground"))];
        slots = [.. parts.Select((_, i) => Slots([input[i], output[i], ground[i]], at))];
        laws = new Law[Count];
        last = new double[Count];
        Forget();
    }

    public override void Prepare(double kelvin, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            double value = Numbers("value")[i];
            laws[i] = new()
            {
                Sign = value < 0 ? -1 : 1,
                Voltage = Math.Abs(value) * (1 + Numbers("tempco")[i] * (kelvin - Constants.ReferenceTemperature)),
                PerLine = 1 / Numbers("line rejection")[i],
                Headroom = Numbers("headroom")[i],
                SupplyCurrent = Numbers("supply current")[i],
                Output = LimitedOutput.From(Numbers("output resistance")[i], Numbers("current limit")[i]),
            };
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        double[] x = pass.X;
        double[] f = pass.F;
        for (int i = first; i < end; i++)
        {
            ref readonly Law law = ref laws[i];
            double vin = law.Sign * (x[input[i]] - x[ground[i]]);
            double vout = law.Sign * (x[output[i]] - x[ground[i]]);
            double target = Target(in law, vin, out double byInput);
            double across = target - vout;
            double held = pass.Limiting ? law.Output.Hold(across, ref last[i], ref pass.Limited) : across;
            double current = law.Output.Current(held, out double g);
            current += g * (across - held);

            double root = Math.Sqrt(current * current + Bend * Bend);
            double larger = 0.5 * (Math.Abs(current) + root);
            double smaller = 0.25 * Bend * Bend / larger;
            double given = current > 0 ? larger : smaller;
            double taken = current > 0 ? smaller : larger;
            double quiescent = law.SupplyCurrent;
            double asleep = quiescent * Smooth.Step(vin, Awake, out double asleepByInput);

            f[output[i]] -= law.Sign * current;
            f[input[i]] += law.Sign * (given - 0.5 * Bend + asleep);
            f[ground[i]] -= law.Sign * (taken - 0.5 * Bend + asleep);
            double gGiven = g * given / root;
            double gQuiescent = quiescent * asleepByInput;
            AddRow(pass.G, slots[i], 1, -g * byInput, g);
            AddRow(pass.G, slots[i], 0, gGiven * byInput + gQuiescent, -gGiven);
            AddRow(pass.G, slots[i], 2, (g - gGiven) * byInput - gQuiescent, gGiven - g);
        }
    }

    public override void Forget() => Array.Fill(last, double.NaN);

    public override void Noise(Pass pass, int part, NoiseList into)
    {
        double density = Numbers("voltage noise")[part] * Least.Conductance(Numbers("output resistance")[part]);
        into.Add($"{Parts[part].Name} voltage noise", ground[part], output[part], density * density);
    }

    /// <summary>The lesser of the regulated voltage and what the input leaves, not below zero.</summary>
    private static double Target(ref readonly Law law, double vin, out double byInput)
    {
        double regulated = law.Voltage + (vin - law.Voltage - StatedExcess) * law.PerLine;
        double lost = Smooth.Positive(regulated - (vin - law.Headroom), Width, out double loses);
        double target = Smooth.Positive(regulated - lost, Width, out double stays);
        byInput = stays * (law.PerLine * (1 - loses) + loses);
        return target;
    }

    /// <summary>Adds a row's derivatives by the input's and the output's voltage, both against the return.</summary>
    private static void AddRow(double[] matrix, int[] slots, int row, double byInput, double byOutput)
    {
        matrix[slots[3 * row]] += byInput;
        matrix[slots[3 * row + 1]] += byOutput;
        matrix[slots[3 * row + 2]] -= byInput + byOutput;
    }

    private static int[] Slots(int[] nodes, Assembly at) =>
        [.. nodes.SelectMany(row => nodes.Select(column => at.Slot(row, column)))];
}
