using System.Collections.Immutable;

namespace Consort.Engine.Response;

/// <summary>Wave shapes with which an output is compared.</summary>
public enum IdealWave
{
    /// <summary>One line.</summary>
    Sine,
    /// <summary>Odd lines by their square.</summary>
    Triangle,
    /// <summary>All lines by their number.</summary>
    Saw,
}

/// <summary>An output's shape in one state.</summary>
/// <param name="At">Temperature in K, or a trimmer's position (0 to 1).</param>
/// <param name="Distortion">Of harmonics 2 to 20 against the fundamental (IEC 60268-3), a share.</param>
/// <param name="Departure">Root of the sum of squares of what each harmonic's amplitude lacks or has over that of the ideal wave, against the fundamental; a sine's is its distortion.</param>
/// <param name="Db">Harmonics 2 to 10 against the fundamental, dB.</param>
/// <param name="PeakToPeak">V.</param>
public sealed record WavePoint(double At, double Distortion, double Departure, ImmutableArray<double> Db, double PeakToPeak);

/// <summary>How one trimmer moves an output's shape.</summary>
public sealed record WaveTrim(string Trimmer, ImmutableArray<WavePoint> Points);

/// <summary>An output's shape over temperature and over the trimmers that are not for pitch.</summary>
/// <param name="Output">Its jack.</param>
/// <param name="Nearest">The ideal wave that it is nearest to.</param>
/// <param name="Temperatures">One point for each temperature.</param>
/// <param name="Trims">Those that move its shape by more than 1 dB of its departure or a hundredth of a percent.</param>
/// <param name="Still">Trimmers that were turned from end to end and moved less.</param>
public sealed record WaveSheet(string Output, IdealWave Nearest, ImmutableArray<WavePoint> Temperatures, ImmutableArray<WaveTrim> Trims, ImmutableArray<string> Still);
