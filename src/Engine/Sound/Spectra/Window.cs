using System.Collections.Immutable;

namespace Consort.Engine.Sound.Spectra;

/// <summary>
/// A sum of cosines that fades a stretch of samples in and out, w(n) = Σ c[k]·cos(2πkn/N) in the form that is periodic in
/// N, so that a line between two bins leaks no further than stated.
/// </summary>
/// <param name="Name">As its author calls it.</param>
/// <param name="Source">Where its coefficients are published.</param>
/// <param name="Coefficients">c[0] to c[K], with their signs.</param>
/// <param name="SidelobeDb">Highest sidelobe against the main one as published, dB.</param>
public sealed record Window(string Name, string Source, ImmutableArray<double> Coefficients, double SidelobeDb)
{
    private const string HarrisPaper = "F. J. Harris, Proc. IEEE 66 (1978) 51";
    private const string NuttallPaper = "A. H. Nuttall, IEEE Trans. ASSP-29 (1981) 84";
    private const string HeinzelReport =
        "G. Heinzel, A. Rüdiger, R. Schilling, Spectrum and spectral density estimation by the DFT, MPI Hannover (2002), appendix C";

    /// <summary>For a first look: narrow, with near sidelobes.</summary>
    public static Window Hann { get; } = new("Hann", HarrisPaper, [0.5, -0.5], -31.5);

    /// <summary>Four terms, 92 dB.</summary>
    public static Window Harris { get; } = new("Blackman-Harris, 4 terms", HarrisPaper, [0.35875, -0.48829, 0.14128, -0.01168], -92.0);

    /// <summary>Four terms with the lowest sidelobes that four can have.</summary>
    public static Window Nuttall { get; } = new("Nuttall, 4 terms", NuttallPaper, [0.3635819, -0.4891775, 0.1365995, -0.0106411], -98.1);

    /// <summary>Flat top: a line between two bins reads 0.0021 dB low at worst.</summary>
    public static Window FlatTop { get; } =
        new("HFT144D", HeinzelReport, [1, -1.96760033, 1.57983607, -0.81123644, 0.22583558, -0.02773848, 0.00090360], -144.1);

    /// <summary>Flat top with sidelobes below the rounding of the samples themselves: what shows is in the sound.</summary>
    public static Window Deep { get; } =
        new(
            "HFT248D",
            HeinzelReport,
            [
                1, -1.985844164102, 1.791176438506, -1.282075284005, 0.667777530266, -0.240160796576, 0.056656381764,
                -0.008134974479, 0.000624544650, -0.000019808998, 0.000000132974,
            ],
            -248.4
        );

    /// <summary>All of them.</summary>
    public static ImmutableArray<Window> All { get; } = [Hann, Harris, Nuttall, FlatTop, Deep];

    /// <summary>Half the width of its main lobe, bins: nothing further off than this shows above the sidelobes.</summary>
    public int Reach => Coefficients.Length;

    /// <summary>Equivalent noise bandwidth, bins: noise reads as if through a rectangle this wide.</summary>
    public double NoiseBandwidth =>
        1 + 0.5 * Coefficients.Skip(1).Sum(c => c * c) / (Coefficients[0] * Coefficients[0]);

    /// <summary>The weights of a stretch of samples; their mean is <c>Coefficients[0]</c>.</summary>
    public double[] Weights(int count)
    {
        double[] weights = new double[count];
        for (int n = 0; n < count; n++)
        {
            double angle = 2 * Math.PI * n / count;
            double sum = Coefficients[0];
            for (int k = 1; k < Coefficients.Length; k++)
                sum += Coefficients[k] * Math.Cos(k * angle);
            weights[n] = sum;
        }
        return weights;
    }

    /// <summary>What a line of amplitude 1 reads so many bins away from it, for long stretches; may be negative.</summary>
    public double Response(double bins)
    {
        // Σ c[k]·(−1)^k/2·(sinc(f − k) + sinc(f + k)), as the stretch's middle sees it, with sin(πf) taken out.
        double f = Math.Abs(bins);
        int nearest = (int)Math.Round(f);
        if (Math.Abs(f - nearest) < 1e-9)
            return nearest == 0 ? 1
                : nearest < Coefficients.Length ? (nearest % 2 == 0 ? 0.5 : -0.5) * Coefficients[nearest] / Coefficients[0]
                : 0;
        double sum = Coefficients[0] / f;
        for (int k = 1; k < Coefficients.Length; k++)
            sum += Coefficients[k] * f / (f * f - (double)k * k);
        return Math.Sin(Math.PI * f) / Math.PI * sum / Coefficients[0];
    }
}
