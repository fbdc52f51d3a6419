using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Sound.Noise;
using Consort.Tests.Circuit;
using Consort.Tests.Circuit.Published;
using Xunit;

namespace Consort.Tests.Sound.Noise;

/// <summary>How noise moves a period, against closed forms and against runs with noise let in.</summary>
public sealed class PeriodNoiseTests
{
    private const double KT = Constants.Boltzmann * Constants.ReferenceTemperature;
    private const double Slope = 5 / 100e-6; // at the threshold, V/s: 5 V left over RC

    // A capacitor that a resistor charges to half its supply and that a switch empties; its threshold comes over a resistor.
    private static Bench Charged() =>
        Cores.Slowly(
            new(
                $$"""
                circuit:
                  V1: {voltage source: 10 V, plus: supply, minus: 0 V}
                  R1: {resistor: 10k, from: supply, to: saw}
                  C1: {capacitor: 10n, starts at: 1 V, from: saw, to: 0 V}
                  I1: {current source: 0 A, from: 0 V, to: saw}
                  V2: {voltage source: 2.51 V, plus: reference, minus: 0 V}
                  R2: {resistor: 1k, from: reference, to: limit}
                  C2: {capacitor: 100p, from: limit, to: 0 V}
                  {{Cores.Reset("saw")}}
                """
            ),
            "saw"
        );

    private static PeriodNoise Read(Bench bench)
    {
        Probe probe = bench.Falling("saw", 2.5);
        (PeriodNoise? noise, SolveFailure? failure) = PeriodNoiseReader.Read(bench.Circuit, bench.Start(new Accuracy(1e-6), null, probe), probe, bench.Rest.X, 69.3e-6);
        Assert.True(noise is not null, failure?.ToString());
        return noise;
    }

    private static double Volts(PeriodNoise noise, string source) => Math.Sqrt(noise.Causes.First(cause => cause.Source == source).Jitter) * Slope;

    [Fact]
    public void A_capacitor_charged_over_a_resistor_reaches_its_threshold_with_kT_over_C_on_it()
    {
        // Over a charge to half the supply the resistor brings kT/C·(1 − e^(−2T/RC)) = 3/4 of kT/C; what the switch left is
        // kT/C, of which e^(−2T/RC) = 1/4 is still there: equipartition again. Johnson (Phys. Rev. 32 (1928) 97) and Nyquist
        // (110); the reset noise of samplers is the same kT/C. From memory.
        PeriodNoise noise = Read(Charged());
        double whole = Math.Sqrt(KT / 10e-9);
        Expect.Relative(whole * Math.Sqrt(0.75), Volts(noise, "R1 thermal"), 2e-3);
        Expect.Relative(whole * 0.5, Volts(noise, "S saw thermal"), 0.05); // the switch's turn of a nanosecond is met in few steps
    }

    [Fact]
    public void Noise_of_the_threshold_becomes_jitter_over_the_slope()
    {
        // Abidi and Meyer, IEEE J. Solid-State Circuits 18 (1983) 794, from memory: jitter is the noise at the threshold, root
        // mean square, over the slope at which it is met. A threshold behind R and C has kT/C.
        PeriodNoise noise = Read(Charged());
        Expect.Relative(Math.Sqrt(KT / 100e-12), Volts(noise, "R2 thermal"), 0.01);
    }

    [Fact]
    public void Periods_that_know_nothing_of_each_other_make_the_phase_walk_by_their_own_jitter()
    {
        PeriodNoise noise = Read(Charged());
        Expect.Relative(noise.Jitter, noise.Walk, 0.01);
        // White FM: the phase's variance grows by D a second, and the frequency's one-sided density is 2D.
        Expect.Relative(2 * noise.Jitter * noise.Jitter * noise.Hertz, noise.Density, 0.02);
    }

    [Fact]
    public void A_current_that_is_let_in_moves_the_periods_of_a_run_as_much_as_the_adjoint_says()
    {
        // Steps of a random current, each a fortieth of a period long: white with the one-sided density 2·A²·dt up to beyond
        // what a charge of a whole period sees.
        const double Amperes = 1e-6;
        const int Periods = 600;
        Bench bench = Charged();
        PeriodNoise noise = Read(bench);
        double length = 1 / noise.Hertz / 40;
        double density = 2 * Amperes * Amperes * length;
        NoiseCause resistor = noise.Causes.First(cause => cause.Source == "R1 thermal");
        double told = Math.Sqrt(resistor.Jitter * density / (4 * KT / 10e3));

        Probe probe = bench.Falling("saw", 2.5);
        Transient run = bench.Start(Accuracy.Pitch, null, probe);
        NoiseStream random = new(1, 1);
        List<double> times = [];
        double[] x = (double[])run.X.Clone();
        for (int i = 0; times.Count <= Periods + 3; i++)
        {
            bench.Circuit["I1", "value"] = Amperes * random.At(i);
            run.Start(x, i * length);
            Bench.Run(run, (i + 1) * length);
            times.AddRange(run.Crossings.Select(crossing => crossing.Time));
            x = (double[])run.X.Clone();
        }
        double[] periods = [.. times.Skip(3).Zip(times.Skip(2), (to, from) => to - from)];
        double mean = periods.Average();
        double seen = Math.Sqrt(periods.Average(period => (period - mean) * (period - mean)));
        Expect.Relative(told, seen, 0.1); // 600 periods know their deviation to 3 %; three times that
    }
}
