using System.Globalization;
using Consort.Bench;
using Consort.Bench.Estimates;
using Consort.Bench.Comparison;
using Consort.Bench.Micro;
using Consort.Bench.Timings;

Page page = new(Console.Out);
switch (args.FirstOrDefault())
{
    case "everything":
        return Sections.Everything(args[1], TimeProvider.System) ? 0 : 3;
    case "side-by-side":
        return Sections.SideBySide(page, page) ? 0 : 3;
    case "study":
        StepStudy.Run(page);
        return 0;
    case "micro":
        MicroStudy.Run(page, Path.Combine(Path.GetTempPath(), "consort-bench"));
        return 0;
    case "proofs":
        ProveStudy.Run(page);
        return 0;
    case "tones":
        ToneStudy.Run(page, args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 300, args.Length > 2 ? args[2..] : []);
        return 0;
    case "trimming":
        TrimStudy.Run(page, (int)Numbers(1)[0], (int)Numbers(1)[1]);
        return 0;
    case "faults":
        Consort.Bench.Faults.FaultStudy.Run(page, int.Parse(args[1], CultureInfo.InvariantCulture), int.Parse(args[2], CultureInfo.InvariantCulture), ulong.Parse(args[3], CultureInfo.InvariantCulture), args[4..]);
        return 0;
    case "sound":
        Consort.Bench.Sound.AliasStudy.Run(page);
        return 0;
    case "sound-speed":
        Consort.Bench.Sound.SoundSpeed.Run(page);
        return 0;
    case "residual":
        Consort.Bench.Sound.ResidualStudy.Run(page);
        return 0;
    case "builds":
        Consort.Bench.Builds.BuildSpeed.Run(page);
        return 0;
    case "live":
        Consort.Bench.Live.LiveStudy.Run(page, args[1]);
        return 0;
    case "agreement":
        Consort.Bench.Builds.BuildAgreement.Run(page, args[1], (int)Numbers()[0]);
        return 0;
    case "steps":
        StepCosts.Run(args[1], Numbers()[0]);
        return 0;
    case "stages":
        ProveStages.Run(args[1], 2);
        return 0;
    case "accuracy":
        StepAccuracy.Run(args[1], Numbers());
        return 0;
    default:
        Console.Error.WriteLine("bench: say what to measure: everything, side-by-side, study, micro, proofs, tones, trimming, faults, sound, sound-speed, residual, builds, live, agreement, steps, stages or accuracy (bench/README.md)");
        return 2;
}

double[] Numbers(int from = 2) => [.. args[from..].Select(a => double.Parse(a, CultureInfo.InvariantCulture))];
