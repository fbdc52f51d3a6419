using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>Unknowns and slots of one op amp. 'Late' is the state behind the second pole; the state itself without one.</summary>
internal readonly struct OpAmpNodes
{
    public readonly int Plus,
        Minus,
        Out,
        Positive,
        Negative,
        State,
        Late;
    public readonly Quad Input;
    public readonly int UP,
        UM,
        UPositive,
        UNegative,
        UU,
        LL,
        LU;
    public readonly SupplyPins Supply;

    public OpAmpNodes(Part part, Assembly at)
    {
        Plus = at.Net(part, "plus");
        Minus = at.Net(part, "minus");
        Out = at.Net(part, "out");
        Positive = at.Net(part, "supply +");
        Negative = at.Net(part, "supply -");
        State = at.Inner(part, "unloaded output", UnknownKind.Voltage);
        Late = double.IsFinite(part.Number("second pole")) ? at.Inner(part, "second pole", UnknownKind.Voltage) : State;
        Input = at.Quad(Plus, Minus);
        UP = at.Slot(State, Plus);
        UM = at.Slot(State, Minus);
        UPositive = at.Slot(State, Positive);
        UNegative = at.Slot(State, Negative);
        UU = at.Slot(State, State);
        LL = at.Slot(Late, Late);
        LU = at.Slot(Late, State);
        Supply = new(Late, Out, Positive, Negative, at);
    }
}
