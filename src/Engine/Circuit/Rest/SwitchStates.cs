namespace Consort.Engine.Circuit.Rest;

/// <summary>
/// Brings comparators and switches to states that fit the voltages at rest: for a few rounds all that do not fit turn over
/// together; then one in every round, in turn, as the first of two that race each other would (two comparators wired as a
/// latch never agree together).
/// </summary>
internal sealed class SwitchStates
{
    private const int RoundsTogether = 6;
    private const int TurnsEach = 4;

    private readonly (ISwitching Bank, int Watch)[] all;
    private int round;
    private int next;

    public SwitchStates(Circuit circuit)
    {
        all =
        [
            .. circuit
                .Banks.OfType<ISwitching>()
                .SelectMany(bank => Enumerable.Range(0, bank.Watches).Select(watch => (bank, watch))),
        ];
    }

    /// <summary>After so many rounds there is no state that lasts.</summary>
    public bool AreSpent => round > RoundsTogether + TurnsEach * all.Length;

    /// <summary>Starts to count.</summary>
    public void Begin() => round = next = 0;

    /// <summary>Turns over what does not fit; false when all fits.</summary>
    public bool Settle(double[] x)
    {
        bool isTogether = ++round <= RoundsTogether;
        bool changed = false;
        for (int i = 0; i < all.Length; i++)
        {
            int at = (next + i) % all.Length;
            if (!all[at].Bank.Settle(all[at].Watch, x))
                continue;
            changed = true;
            if (isTogether)
                continue;
            next = at + 1;
            break;
        }
        return changed;
    }
}
