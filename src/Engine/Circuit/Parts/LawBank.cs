using System.Runtime.CompilerServices;
using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>
/// Currents (<c>law</c>) and charges (<c>charge law</c>) from 'from' to 'to' by formula. They have no noise. A formula's
/// own corners in time are not announced: a step in it is met by the error control alone.
/// </summary>
internal sealed class LawBank : PartBank
{
    private readonly int[] from;
    private readonly int[] to;
    private readonly bool[] isCharge;
    private readonly FormulaTape[] tapes;
    private readonly int[][] fromSlots;
    private readonly int[][] toSlots;

    public LawBank(IReadOnlyList<Part> parts, Assembly at)
        : base(parts)
    {
        from = [.. parts.Select(part => at.Net(part, "from"))];
        to = [.. parts.Select(part => at.Net(part, "to"))];
        isCharge = [.. parts.Select(part => part.Kind.Word == "charge law")];
        tapes =
        [
            .. parts.Select(part =>
                FormulaTape.Of(part, at) ?? throw new ArgumentException($"{part.Name} has no formula")
            ),
        ];
        fromSlots = [.. tapes.Select((tape, i) => tape.SlotsOf(from[i], at))];
        toSlots = [.. tapes.Select((tape, i) => tape.SlotsOf(to[i], at))];
    }

    /// <inheritdoc/>
    public override bool HangsOnTime(double time) => tapes.Any(tape => tape.HasTime);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override void Stamp(Pass pass, int first, int end)
    {
        for (int i = first; i < end; i++)
        {
            FormulaTape tape = tapes[i];
            double value = tape.Evaluate(pass.X, pass.Time, pass.Temperature);
            double[] rows = isCharge[i] ? pass.Q : pass.F;
            double[] matrix = isCharge[i] ? pass.C : pass.G;
            rows[from[i]] += value;
            rows[to[i]] -= value;
            if (!pass.WantsSlopes)
                continue;
            tape.Add(matrix, fromSlots[i], 1);
            tape.Add(matrix, toSlots[i], -1);
        }
    }
}
