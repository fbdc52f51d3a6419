namespace Consort.Engine.Sound.Spectra;

/// <summary>The strongest line of a sampled periodic wave that is none of its harmonics.</summary>
/// <param name="Db">Against the fundamental, dB.</param>
/// <param name="Hertz">Where it stands.</param>
/// <param name="LimitDb">What the reading itself could have hidden or made up: the window's sidelobes, dB.</param>
public sealed record AliasFloor(double Db, double Hertz, double LimitDb)
{
    /// <summary>Reads it from 0 to half the rate, with the main lobes of all harmonics and of the mean left out.</summary>
    /// <param name="samples">Long enough that lobes leave gaps: some hundred periods.</param>
    /// <param name="fundamental">Known exactly, Hz.</param>
    public static AliasFloor Of(ReadOnlySpan<double> samples, double rate, double fundamental, Window window)
    {
        Spectrum spectrum = Spectrum.Of(samples, rate, window);
        return Strongest(spectrum, hertz => Distance(hertz, fundamental, rate / 2), spectrum.Amplitudes[Nearest(spectrum, fundamental)]);
    }

    /// <summary>The same for a wave whose true lines are known one by one.</summary>
    /// <param name="lines">Frequencies that belong there, Hz; those above half the rate do not count.</param>
    public static AliasFloor Of(ReadOnlySpan<double> samples, double rate, double fundamental, IReadOnlyList<double> lines, Window window)
    {
        Spectrum spectrum = Spectrum.Of(samples, rate, window);
        double[] kept = [.. lines.Where(line => line <= rate / 2)];
        return Strongest(spectrum, hertz => kept.Min(line => Math.Abs(line - hertz)), spectrum.Amplitudes[Nearest(spectrum, fundamental)]);
    }

    private static AliasFloor Strongest(Spectrum spectrum, Func<double, double> distance, double reference)
    {
        double reach = spectrum.Window.Reach * spectrum.BinHertz;
        (double most, double at) = (0, 0);
        for (int k = spectrum.Window.Reach; k < spectrum.Amplitudes.Length; k++)
            if (spectrum.Amplitudes[k] > most && distance(k * spectrum.BinHertz) > reach)
                (most, at) = (spectrum.Amplitudes[k], k * spectrum.BinHertz);
        return new(Decibels.Of(most / reference), at, spectrum.Window.SidelobeDb);
    }

    private static int Nearest(Spectrum spectrum, double hertz) => (int)Math.Round(hertz / spectrum.BinHertz);

    // A harmonic past half the rate is an alias already: it does not excuse what stands near it.
    private static double Distance(double hertz, double fundamental, double top)
    {
        double k = Math.Max(1, Math.Round(hertz / fundamental));
        if (k * fundamental > top)
            k = Math.Floor(top / fundamental);
        return Math.Abs(hertz - k * fundamental);
    }
}
