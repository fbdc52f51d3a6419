using Consort.Engine.Response;

namespace Consort.Engine.Documents;

/// <summary>Response sheets in words: the same on the terminal, on a page and on a screen.</summary>
public static class ResponseWords
{
    /// <summary>A sheet's name.</summary>
    public static string Name(SheetKind kind) => kind.ToString().ToLowerInvariant();

    /// <summary>A place of a drive: a position in percent, or volts.</summary>
    public static string At(Drive drive, double at) =>
        double.IsNaN(at) ? "never" : drive.IsJack ? $"{Signed(at, 2)} V" : $"{100 * at:0.0} %";

    /// <summary>A share in percent.</summary>
    public static string Percent(double share, string format = "0.0") => double.IsNaN(share) ? "none" : $"{(100 * share).ToString(format)} %";

    /// <summary>With its sign, to so many places.</summary>
    public static string Signed(double value, int places)
    {
        string zeros = places > 0 ? "0." + new string('0', places) : "0";
        return double.IsNaN(value) ? "none" : value.ToString($"+{zeros};-{zeros};{zeros}");
    }

    /// <summary>What is to be said of a pulse's width.</summary>
    public static IEnumerable<string> Sentences(WidthSheet sheet)
    {
        Drive drive = sheet.Drive;
        if (sheet.Points.All(point => !point.IsAlive))
        {
            yield return "the pulse has no edges anywhere on the way";
            yield break;
        }
        yield return double.IsNaN(sheet.Half) ? "never half of the period" : $"half of the period at {At(drive, sheet.Half)}";
        yield return $"{End(drive, sheet.Low, "low")}; {End(drive, sheet.High, "high")}";
        double perPercent = 0.01 / sheet.Slope;
        string step = drive.IsJack ? $"{Signed(1000 * perPercent, 1)} mV" : $"{Signed(100 * perPercent, 2)} % of the turn";
        yield return $"{step} for one percent of the period more; bends away from a straight line by {Percent(sheet.Bend, "0.00")} at most";
        yield return $"pitch moves by {Figures.SignedFine(sheet.PitchCents).TrimStart('+')} cents along with it";
        foreach (WidthDrift drift in sheet.Drifts.Skip(1))
            yield return $"at {Figures.Celsius(drift.Kelvin)} {string.Join(", ", sheet.Drifts[0].High.Zip(drift.High).Select(pair => $"{Percent(pair.First, "0.00")} become {Percent(pair.Second, "0.00")}"))}";
    }

    /// <summary>What is to be said of an output's level over temperature.</summary>
    public static string Sentence(LevelSheet sheet) =>
        $"{sheet.Output} without load: {string.Join(", ", sheet.Drifts.OrderBy(drift => drift.Kelvin).Select(drift => $"{drift.PeakToPeak:0.000} V with a mean of {Signed(drift.Mean, 3)} V at {Figures.Celsius(drift.Kelvin)}"))}";

    private static string End(Drive drive, WidthEnd? end, string name) =>
        end is null ? $"lives at the {name} end" : $"dies at {At(drive, end.At)} (last {Percent(end.Last, "0.00")}; stays {(end.High ? "high" : "low")} beyond)";

    /// <summary>What is to be said of a frequency's modulation.</summary>
    public static IEnumerable<string> Sentences(FrequencySheet sheet)
    {
        yield return sheet.IsLinear
            ? $"linear: {Signed(sheet.Slope, 2)} Hz/V ({Percent(sheet.Slope / sheet.Carrier, "0.00")} of the carrier's {Figures.Hertz(sheet.Carrier)} Hz); bends away by {Percent(sheet.Bend, "0.00")} of the carrier at most"
            : $"exponential: {Signed(sheet.Slope, 4)} octaves/V at {Figures.Hertz(sheet.Carrier)} Hz; bends away by {1200 * sheet.Bend:0.0} cents at most";
        yield return sheet.End switch
        {
            LowEnd.Stops => $"stops at {Signed(sheet.EndVolts, 2)} V (slower than a fiftieth of the pitch): not through zero",
            LowEnd.Folds => $"turns at {Signed(sheet.EndVolts, 2)} V and rises again, as through zero it does",
            _ when sheet.IsLinear => $"runs at both ends of the swing; its straight line reaches nothing at {Signed(sheet.EndVolts, 2)} V",
            _ => "runs at both ends of the swing",
        };
        foreach (CarrierDrift drift in sheet.Drifts.Skip(1))
            yield return $"at {Figures.Celsius(drift.Kelvin)} the carrier stands {Figures.SignedCents(drift.Cents)} cents away, its slope {Signed(100 * (drift.Slope / sheet.Drifts[0].Slope - 1), 2)} %";
    }

    /// <summary>What is to be said of a sync.</summary>
    public static IEnumerable<string> Sentences(SyncSheet sheet)
    {
        yield return $"caught while its own pitch stands from {Cents(sheet.FlatCents, sheet.FlatEnds)} below to {Cents(sheet.SharpCents, sheet.SharpEnds)} above what leads it";
        yield return $"from one end of that to the other {Percent(sheet.SpectrumChange)} of {sheet.Output}'s spectrum changes: {(sheet.SpectrumChange < KeepsShape ? "it keeps its wave" : "its wave changes with its own pitch")}";
    }

    private const double KeepsShape = 0.25;

    private static string Cents(double cents, bool ends) => ends ? $"{cents:0.0} cents" : $"{cents:0} cents or more";

    /// <summary>Title of a sync sheet.</summary>
    public static string Title(SyncSheet sheet) => $"Sync to {sheet.Source}{(sheet.Way.Length > 0 ? $", {sheet.Way}" : "")}";

    /// <summary>A view of it.</summary>
    public static string View(SyncView view) => $"own pitch {Signed(view.OwnCents, 0)} cents";

    /// <summary>A harmonic's amplitude against 1 V, dB.</summary>
    public static double Dbv(double volts) => 20 * Math.Log10(Math.Max(volts, 1e-6));

    /// <summary>The pitch shift counted in motion, with its standard error; nothing where it was not run.</summary>
    public static string Motion(DepthPoint depth) => double.IsNaN(depth.MotionCents) ? "" : $"{Figures.SignedCents(depth.MotionCents)} ± {Math.Max(0.001, depth.MotionError):0.000}";

    /// <summary>How far a drive moves the pitch at one of its ends, cents.</summary>
    /// <param name="end">0: the low one; 2: the high one.</param>
    public static string Cents(DriveEffect effect, int end) => double.IsNaN(effect.Hertz[end]) ? "stops" : Figures.SignedCents(1200 * Math.Log2(effect.Hertz[end] / effect.Hertz[1]));

    /// <summary>A wave's points, temperatures first, each with where it was read.</summary>
    public static IEnumerable<(string At, WavePoint Point)> Points(WaveSheet sheet) =>
        sheet.Temperatures.OrderBy(point => point.At).Select(point => (Figures.Celsius(point.At), point))
            .Concat(sheet.Trims.SelectMany(trim => trim.Points.Select(point => ($"{trim.Trimmer} {100 * point.At:0} %", point))));

    /// <summary>A load.</summary>
    public static string Load(double ohms) => double.IsFinite(ohms) ? Figures.Si(ohms, "Ω") : "open";

    /// <summary>Names of the ideal waves.</summary>
    public static string Name(IdealWave wave) => wave.ToString().ToLowerInvariant();
}
