using Consort.Engine.Fit;
using Consort.Engine.Pitch;
using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.PitchPath;

namespace Consort.Tests.Invented;

/// <summary>A unit as its whole circuit with every part as it was drawn, those too of which the fit knows nothing: each reading
/// is a full transient.</summary>
internal sealed class WholeUnit
{
    private readonly UnitModel model;
    private readonly SoloOscillator solo;
    private readonly Dictionary<int, double> known = [];

    /// <param name="own">How the names of its own parts begin: a lead that it hangs on stays as in the design.</param>
    public WholeUnit(UnitModel model, ulong seed, long number, Unlikeness unlike, string own)
    {
        this.model = model;
        PlayedVoice built = model.Builds.Voice.Twin();
        double[] departures = new double[model.Builds.AllDraws.Parameters.Length];
        model.Builds.AllDraws.Departures(new RandomPoints(seed), number, 1, departures);
        for (int p = 0; p < departures.Length; p++)
            departures[p] *= model.Builds.AllDraws.Parameters[p].Part.Name.StartsWith(own, StringComparison.Ordinal) ? unlike.Parts : 0;
        CornerWeights.Build(built, model.Builds.AllDraws, departures);
        built.Circuit.SetTemperature(model.Kelvins[0]);
        solo = new(built, built.Oscillators[model.Oscillator]);
        Sounds = solo.Prepare(built.MiddleVolts) is null;
    }

    /// <summary>False when it cannot be solved at all.</summary>
    public bool Sounds { get; }

    /// <summary>Sets a trimmer of the sheet.</summary>
    public void Turn(int j, double position)
    {
        solo.Set(model.Sheet.Steps[j].Trimmer, "position", position);
        known.Clear();
    }

    /// <summary>Pitch error at a note, cents; NaN when it does not sound.</summary>
    public double Cents(int n)
    {
        if (known.TryGetValue(n, out double cents))
            return cents;
        (double hertz, Engine.Circuit.SolveFailure? failure) = solo.Read(model.Volts[n]);
        return known[n] = failure is null ? solo.Oscillator.Cents(model.Volts[n], hertz) : double.NaN;
    }
}
