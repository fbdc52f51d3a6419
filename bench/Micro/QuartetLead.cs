using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Linear;
using Consort.Engine.Circuit.Motion;
using Consort.Engine.Pitch;

namespace Consort.Bench.Micro;

/// <summary>The quartet's lead in full motion at the middle of the keyboard, for what is timed by itself.</summary>
internal sealed class QuartetLead
{
    // 1/(h·γ) of a step of some 0.4 µs: an ordinary one.
    private const double Rate = 1e7;

    public QuartetLead()
    {
        PlayedVoice played = Examples.Play("quartet");
        Solo = Examples.Solo(played, played.Oscillators[0]);
        Volts = played.MiddleVolts;
        Run = Start();
        for (int step = 0; step < 100; step++)
            _ = Run.Step(Forever);
        Circuit = Solo.Circuit;
        Run.X.CopyTo(Circuit.Pass.X, 0);
        Circuit.Evaluate(Run.Time, Regime.Motion);
        Matrix = [.. Circuit.Pass.G.Zip(Circuit.Pass.C, (g, c) => g + Rate * c)];
        Right = [.. Circuit.Pass.F];
        Answer = new double[Circuit.Length];
        Factors = new(Circuit.MotionProgram!);
        _ = Factors.Factor(Matrix);
    }

    /// <summary>A moment that is never reached, s.</summary>
    public const double Forever = 1e9;

    public SoloOscillator Solo { get; }
    public double Volts { get; }
    public Transient Run { get; }
    public Circuit Circuit { get; }
    public double[] Matrix { get; }
    public double[] Right { get; }
    public double[] Answer { get; }
    public LuFactors<double> Factors { get; }

    private Transient Start()
    {
        Transient run = Solo.Run();
        run.Start(Solo.Start(Volts).X!);
        return run;
    }
}
