namespace Consort.Engine.Sound.Spectra;

/// <summary>Ratios of amplitudes in decibel, and the levels of the studio.</summary>
public static class Decibels
{
    /// <summary>0 dBu: the voltage of 1 mW in 600 Ω, V rms (IEC 60268; √0.6).</summary>
    public static double ZeroDbuVolts { get; } = Math.Sqrt(0.6);

    /// <summary>The level at which programme is aligned, dB against full scale, sine against sine (EBU R 68-2000).</summary>
    public const double AlignmentDbfs = -18;

    /// <summary>20·log10 of a ratio; negative infinity for 0.</summary>
    public static double Of(double ratio) => 20 * Math.Log10(Math.Abs(ratio));

    /// <summary>The ratio of amplitudes.</summary>
    public static double Ratio(double decibels) => Math.Pow(10, decibels / 20);

    /// <summary>A voltage's level, dBu.</summary>
    public static double Dbu(double voltsRms) => Of(voltsRms / ZeroDbuVolts);

    /// <summary>A level's voltage, V rms.</summary>
    public static double VoltsOfDbu(double dbu) => ZeroDbuVolts * Ratio(dbu);

    /// <summary>The voltage of a level against 1 V rms (dBV), V rms.</summary>
    public static double VoltsOfDbv(double dbv) => Ratio(dbv);
}
