using Consort.Engine.Circuit;
using Consort.Engine.Design;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds.PitchPath;

/// <summary>Which resistance of a part: a resistor's own, or one side of a track.</summary>
internal enum TrackSide
{
    Whole,
    Lower,
    Upper,
}

/// <summary>One conductance of the pitch path that differs from build to build or is trimmed. The laws are those of the
/// resistor's and the variable resistor's banks.</summary>
/// <param name="Part">Its part.</param>
/// <param name="Side">Which of the part's resistances.</param>
/// <param name="A">Unknown of one end in the whole circuit.</param>
/// <param name="B">Unknown of the other end.</param>
/// <param name="Value">Drawn parameter that is its value, as a place in the plan's list; −1 when it is not drawn.</param>
/// <param name="Tempco">Drawn parameter that is its tempco.</param>
/// <param name="Trimmer">Trimmer that it is a side of, as a place in the plan's list; −1 when it is none.</param>
internal sealed record Conductance(Part Part, TrackSide Side, int A, int B, int Value, int Tempco, int Trimmer)
{
    private const double LeastResistance = 1e-4;
    private static readonly double LogTaper = Math.Log(81);

    /// <summary>The parts' numbers in this design.</summary>
    public required double Ohms { get; init; }

    /// <summary>Known relative change per kelvin.</summary>
    public required double PerKelvin { get; init; }

    /// <summary>Position in this design; 0 for a resistor.</summary>
    public required double Position { get; init; }

    /// <summary>Resistance left at either end of the track.</summary>
    public double Ends { get; init; }

    /// <summary>Resistance of the wiper in series with this side.</summary>
    public double Wiper { get; init; }

    /// <summary>True for a logarithmic taper.</summary>
    public bool IsAudio { get; init; }

    /// <summary>True where that taper is turned round.</summary>
    public bool IsReverse { get; init; }

    /// <summary>Its value in siemens.</summary>
    /// <param name="value">Relative departure of its value.</param>
    /// <param name="tempco">Departure of its tempco, 1/K.</param>
    /// <param name="position">Position of its wiper.</param>
    /// <param name="warmer">Kelvin above 25 °C.</param>
    public T Siemens<T>(T value, T tempco, T position, double warmer)
        where T : struct, ILanes<T>
    {
        T track = T.Of(Ohms) * (T.Of(1) + value) * (T.Of(1) + (T.Of(PerKelvin) + tempco) * T.Of(warmer));
        if (Side == TrackSide.Whole)
            return T.Of(1) / track;
        T share = Share(position);
        T moving = T.Max(track - T.Of(2 * Ends), T.Of(0));
        T turned = Side == TrackSide.Lower ? share : T.Of(1) - share;
        return T.Of(1) / T.Max(T.Of(Ends + Wiper) + moving * turned, T.Of(LeastResistance));
    }

    private T Share<T>(T position)
        where T : struct, ILanes<T> =>
        !IsAudio ? position
        : IsReverse ? T.Of(1) - Audio(T.Of(1) - position)
        : Audio(position);

    private static T Audio<T>(T x)
        where T : struct, ILanes<T> => (LaneMath.Exp(x * T.Of(LogTaper)) - T.Of(1)) / T.Of(80);

    /// <summary>All conductances of a part that builds or trims move.</summary>
    /// <param name="circuit">The whole circuit.</param>
    /// <param name="part">A resistor, potentiometer or trimmer.</param>
    /// <param name="value">Place of its drawn value, or −1.</param>
    /// <param name="tempco">Place of its drawn tempco, or −1.</param>
    /// <param name="trimmer">Place of the trimmer that it is, or −1.</param>
    public static IEnumerable<Conductance> Of(Circuit.Circuit circuit, Part part, int value, int tempco, int trimmer)
    {
        PartPlace place = circuit.Find(part.Name);
        double ohms = place.Bank.Numbers("value")[place.Index];
        double perKelvin = place.Bank.Numbers("tempco")[place.Index];
        if (part.Kind.Word == "resistor")
        {
            yield return new(part, TrackSide.Whole, Net(circuit, part, "from"), Net(circuit, part, "to"), value, tempco, -1)
            {
                Ohms = ohms,
                PerKelvin = perKelvin,
                Position = 0,
            };
            yield break;
        }
        double wiper = place.Bank.Numbers("wiper resistance")[place.Index];
        bool hasBoth = part.NetAt("ccw") is not null && part.NetAt("cw") is not null;
        bool hasContact = hasBoth && wiper > 0;
        int middle = hasContact ? Inner(circuit, $"{part.Name} contact") : Net(circuit, part, "wiper");
        foreach ((string end, TrackSide side) in ((string, TrackSide)[])[("ccw", TrackSide.Lower), ("cw", TrackSide.Upper)])
            if (part.NetAt(end) is not null && Net(circuit, part, end) != middle)
                yield return new(part, side, Net(circuit, part, end), middle, value, tempco, trimmer)
                {
                    Ohms = ohms,
                    PerKelvin = perKelvin,
                    Position = Math.Clamp(place.Bank.Numbers("position")[place.Index], 0, 1),
                    Ends = place.Bank.Numbers("end resistance")[place.Index],
                    Wiper = hasContact ? 0 : wiper,
                    IsAudio = part.Texts.GetValueOrDefault("taper") is "audio" or "reverse audio",
                    IsReverse = part.Texts.GetValueOrDefault("taper") == "reverse audio",
                };
    }

    private static int Net(Circuit.Circuit circuit, Part part, string terminal) => part.NetAt(terminal) is { } net ? circuit.Net(net) : 0;

    private static int Inner(Circuit.Circuit circuit, string name) =>
        Array.FindIndex(circuit.Unknowns, unknown => unknown.IsInner && unknown.Name == name);
}
