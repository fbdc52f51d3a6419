using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Parts;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Circuit.Parts;

/// <summary>Evaluates the banks of a few parts by themselves, and compares their derivatives with differences.</summary>
internal sealed class EquationBench
{
    private readonly Assembly assembly = new();

    public EquationBench(params Part[] parts)
    {
        Banks = PartBanks.Build(new("bench", [.. parts]), assembly);
        Pass = new()
        {
            X = new double[Length],
            F = new double[Length],
            Q = new double[Length],
            G = new double[assembly.Rows.Count],
            C = new double[assembly.Rows.Count],
        };
        SetTemperature(Constants.ReferenceTemperature);
    }

    public PartBank[] Banks { get; }

    public Pass Pass { get; }

    public int Length => assembly.Unknowns.Count;

    public IReadOnlyList<Unknown> Unknowns => assembly.Unknowns;

    public int Net(string name) => assembly.Nets[name];

    public int Unknown(string name) => assembly.Unknowns.ToList().FindIndex(unknown => unknown.Name == name);

    public void SetTemperature(double kelvin)
    {
        Pass.Temperature = kelvin;
        foreach (PartBank bank in Banks)
            bank.Prepare(kelvin, 0, bank.Count);
    }

    /// <summary>f, q, G and C at a state, the constant share included.</summary>
    public void Evaluate(double[] x)
    {
        Clear(x);
        foreach (PartBank bank in Banks)
            bank.StampConstant(Pass, 0, bank.Count);
        AddConstantShare();
        foreach (PartBank bank in Banks)
            bank.Stamp(Pass, 0, bank.Count);
        Pass.F[0] = Pass.Q[0] = Pass.G[0] = Pass.C[0] = 0;
    }

    /// <summary>The same of one part alone.</summary>
    public void Evaluate(double[] x, PartBank bank, int part)
    {
        Clear(x);
        bank.StampConstant(Pass, part, part + 1);
        AddConstantShare();
        bank.Stamp(Pass, part, part + 1);
        Pass.F[0] = Pass.Q[0] = Pass.G[0] = Pass.C[0] = 0;
    }

    private void Clear(double[] x)
    {
        x.CopyTo(Pass.X, 0);
        Pass.X[0] = 0;
        Array.Clear(Pass.F);
        Array.Clear(Pass.Q);
        Array.Clear(Pass.G);
        Array.Clear(Pass.C);
    }

    private void AddConstantShare()
    {
        for (int slot = 1; slot < Pass.G.Length; slot++)
        {
            Pass.F[assembly.Rows[slot]] += Pass.G[slot] * Pass.X[assembly.Columns[slot]];
            Pass.Q[assembly.Rows[slot]] += Pass.C[slot] * Pass.X[assembly.Columns[slot]];
        }
    }

    public double[,] Dense(double[] slots)
    {
        double[,] matrix = new double[Length, Length];
        for (int slot = 1; slot < slots.Length; slot++)
            matrix[assembly.Rows[slot], assembly.Columns[slot]] += slots[slot];
        return matrix;
    }

    /// <summary>Fails unless G and C agree with fourth-order central differences of f and q at a state. Allowed are the
    /// difference's truncation (relative to the row's largest entry) and the rounding of the terms that f sums up.</summary>
    public void DerivativesMustAgree(double[] x, double tolerance = 1e-6)
    {
        Evaluate(x);
        double[,] g = Dense(Pass.G);
        double[,] c = Dense(Pass.C);
        double[] f = (double[])Pass.F.Clone();
        double[] q = (double[])Pass.Q.Clone();
        for (int column = 1; column < Length; column++)
        {
            // Two steps: near a steep bend the long one cuts the corner, elsewhere the short one drowns in rounding.
            double h = Unknowns[column].Kind == UnknownKind.Voltage ? 2e-5 : 1e-6;
            (double[] df, double[] dq) = Differences(x, column, h);
            (double[] nearF, double[] nearQ) = Differences(x, column, h / 32);
            for (int row = 1; row < Length; row++)
            {
                MustAgree(
                    df[row],
                    nearF[row],
                    g[row, column],
                    tolerance * Scale(g, row),
                    Rounding(f[row], g, row, x) / h,
                    "f",
                    row,
                    column,
                    x
                );
                MustAgree(
                    dq[row],
                    nearQ[row],
                    c[row, column],
                    tolerance * Scale(c, row),
                    Rounding(q[row], c, row, x) / h,
                    "q",
                    row,
                    column,
                    x
                );
            }
        }
    }

    /// <summary>A few units in the last place of the row's value and of the products that make it up.</summary>
    public double Rounding(double value, double[,] matrix, int row, double[] x)
    {
        // Currents below a picoampere may have cancelled in the sum; what they leave is of no interest.
        double size = Math.Abs(value) + 1e-3 * Scale(matrix, row) + 1e-12;
        for (int column = 1; column < Length; column++)
            size += Math.Abs(matrix[row, column] * x[column]);
        return 2e-15 * size;
    }

    private double Scale(double[,] matrix, int row)
    {
        double largest = 0;
        for (int column = 1; column < Length; column++)
            largest = Math.Max(largest, Math.Abs(matrix[row, column]));
        return largest;
    }

    private void MustAgree(
        double far,
        double near,
        double stamped,
        double truncation,
        double rounding,
        string what,
        int row,
        int column,
        double[] x
    )
    {
        Assert.True(double.IsFinite(stamped) && double.IsFinite(far), $"not finite: {Where()}");
        Assert.True(
            Math.Abs(far - stamped) <= truncation + rounding + 1e-40
                || Math.Abs(near - stamped) <= truncation + 32 * rounding + 1e-40,
            $"d{what}: stamped {stamped:R}, differences {far:R} and {near:R}: {Where()}"
        );

        string Where() =>
            $"row {Unknowns[row].Name}, column {Unknowns[column].Name}, x = {string.Join(" ", x.Select(v => v.ToString("R")))}";
    }

    private (double[] F, double[] Q) Differences(double[] x, int column, double h)
    {
        double[] f = new double[Length];
        double[] q = new double[Length];
        double[] moved = (double[])x.Clone();
        foreach ((double step, double weight) in (ReadOnlySpan<(double, double)>)[(2, -1), (1, 8), (-1, -8), (-2, 1)])
        {
            moved[column] = x[column] + step * h;
            Evaluate(moved);
            for (int row = 1; row < Length; row++)
            {
                f[row] += weight * Pass.F[row] / (12 * h);
                q[row] += weight * Pass.Q[row] / (12 * h);
            }
        }
        return (f, q);
    }
}
