using Consort.Engine.Circuit;
using Consort.Engine.Pitch.Builds.Draws;

namespace Consort.Engine.Pitch.Builds.Cores;

/// <summary>Something that moves a charge law so far that slopes do not tell it all: one thing that varies, with all parameters
/// that hang on it, or one trimmer.</summary>
/// <param name="Phis">Its φ: places in the voice's plan of draws, or past those a trimmer's.</param>
/// <param name="HalfWidths">Departure of each parameter at the end of the spread; for a trimmer 1, so that it counts in full
/// turns.</param>
internal sealed record Mover(int[] Phis, double[] HalfWidths)
{
    /// <summary>The movers of a variate or a trimmer.</summary>
    public static Mover Of(DrawPlan draws, int variate, int[] parameters) =>
        new(parameters, [.. parameters.Select(p => draws.Parameters[p].Terms.First(term => term.Variate == variate).HalfWidth)]);

    /// <summary>True when it is a trimmer.</summary>
    public bool IsTrimmer(DrawPlan draws) => Phis[0] >= draws.Parameters.Length;

    /// <summary>Its φ when it stands at d.</summary>
    public IEnumerable<(int Phi, double Move)> At(DrawPlan draws, double d) =>
        Phis.Select((p, i) => (p, p >= draws.Parameters.Length ? d : PhiOf(draws.Parameters[p], d * HalfWidths[i])));

    private static double PhiOf(DrawnParameter drawn, double departure) =>
        drawn.Move == MoveKind.Added ? departure : Math.Log(drawn.Value(departure) / drawn.Nominal);

    /// <summary>Moves a circuit that stands as its design does.</summary>
    public void Move(Circuit.Circuit circuit, DrawPlan draws, PartPlace[] trimmers, double d)
    {
        for (int i = 0; i < Phis.Length; i++)
            if (Phis[i] < draws.Parameters.Length)
            {
                DrawnParameter drawn = draws.Parameters[Phis[i]];
                circuit[drawn.Part.Name, drawn.Word] = drawn.Value(d * HalfWidths[i]);
            }
            else
            {
                PartPlace place = trimmers[Phis[i] - draws.Parameters.Length];
                circuit[place.Bank.Parts[place.Index].Name, "position"] = place.Bank.Numbers("position")[place.Index] + d;
            }
    }
}
