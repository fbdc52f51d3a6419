namespace Consort.Engine.Sound.Corners;

/// <summary>
/// A wave on its way to samples, block by block: what it has at each sample as it stands, and the residuals of its corners,
/// which reach half a kernel ahead and back. Blocks come out half a kernel late.
/// </summary>
public sealed class CornerTrack
{
    private readonly CornerKernel kernel;
    private readonly float[] residuals;
    private readonly double[] held; // samples that wait for corners after them

    /// <summary>For blocks of so many samples at most.</summary>
    public CornerTrack(CornerKernel kernel, int block)
    {
        this.kernel = kernel;
        Ahead = kernel.Taps / 2;
        residuals = new float[block + 2 * Ahead];
        held = new double[Ahead];
    }

    /// <summary>By how many samples a block comes out late.</summary>
    public int Ahead { get; }

    /// <summary>A corner after a sample of the present block.</summary>
    /// <param name="sample">Its place in the block.</param>
    /// <param name="place">Of the corner behind it, 0 to 1 of a sample.</param>
    /// <param name="jump">Of the value.</param>
    /// <param name="bend">Of the slope, a sample.</param>
    public void Add(int sample, double place, double jump, double bend)
    {
        if (Ahead > 0)
            kernel.Add(residuals.AsSpan(sample + 1, kernel.Taps), place, jump, bend);
    }

    /// <summary>Ends a block: takes its samples as they stand, and puts in their place those of <see cref="Ahead"/> samples
    /// before, with all corners in.</summary>
    public void Finish(Span<double> samples)
    {
        int count = samples.Length;
        if (Ahead == 0)
            return;
        Span<double> line = count + Ahead <= 1024 ? stackalloc double[count + Ahead] : new double[count + Ahead];
        held.CopyTo(line);
        samples.CopyTo(line[Ahead..]);
        for (int n = 0; n < count; n++)
            samples[n] = line[n] + residuals[n];
        line[count..].CopyTo(held);
        residuals.AsSpan(count, 2 * Ahead).CopyTo(residuals);
        residuals.AsSpan(2 * Ahead, residuals.Length - 2 * Ahead).Clear();
    }
}
