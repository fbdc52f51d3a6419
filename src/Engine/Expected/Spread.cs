using System.Collections.Immutable;
using Consort.Engine.Circuit;
using Consort.Engine.Circuit.Rest;
using Consort.Engine.Circuit.Wiring;
using Consort.Engine.Design;
using Consort.Engine.Pitch;
using Consort.Engine.Scope;

namespace Consort.Engine.Expected;

/// <summary>A resistance in the supply's way into a module, through which its current is read.</summary>
/// <param name="Rail">The rail.</param>
/// <param name="Wire">The resistance's part.</param>
/// <param name="From">Unknown at one end.</param>
/// <param name="To">Unknown at the other.</param>
/// <param name="Ohms">Its value.</param>
internal readonly record struct Feed(string Rail, string Wire, int From, int To, double Ohms);

/// <summary>How a module's currents and standing voltages lie over simulated builds, untrimmed, at rest.</summary>
internal sealed class Spread
{
    private const double NearState = 0.15; // of the amplitude
    private const int FewAlike = 5; // builds

    // What amplifiers take for themselves is not drawn: 1.4 mA typical, 2.5 mA at most (TL072, TI SLOS080D); no sheet gives
    // a least (common practice, no source).
    private const double OwnMore = 0.8;
    private const double OwnLess = 0.4;

    private readonly PlayedVoice played;
    private readonly string member;
    private readonly double[] design;
    private readonly (int Row, int Ground)[] rows;
    private readonly string[] rails;
    private readonly (double Design, double Least, double Most)[] volts;
    private readonly Dictionary<string, List<double[]>> drawn = []; // currents of builds by the state in which they rest
    private IReadOnlyList<WaveLevels> swings = [];

    /// <summary>Of one module; the design itself is in the bands from the beginning.</summary>
    /// <param name="played">The module on the bench.</param>
    /// <param name="member">The module.</param>
    /// <param name="design">Where the design rests.</param>
    /// <param name="nets">Nets of the module that are read.</param>
    public Spread(PlayedVoice played, Member member, double[] design, ImmutableArray<string> nets)
    {
        (this.played, this.design, this.member) = (played, design, member.Name);
        int ground = played.Circuit.Net(MemberParts.Net(member.Name, CircuitDesign.Ground));
        rows = [.. nets.Select(net => (played.Circuit.Net(MemberParts.Net(member.Name, net)), ground))];
        rails = [.. played.Voice.Supply.Rails.Select(rail => rail.Name)];
        Feeds = [.. rails.SelectMany(rail => Into(member, rail))];
        volts = [.. rows.Select(row => Start(design[row.Row] - design[row.Ground]))];
    }

    /// <summary>By net: in the design, least and most of all builds, V.</summary>
    public IReadOnlyList<(double Design, double Least, double Most)> Volts => volts;

    /// <summary>Through what its currents flow; a module that its link feeds has no lead of its own, and what the supply
    /// gives to both is read.</summary>
    public ImmutableArray<Feed> Feeds { get; }

    /// <summary>Builds that came to rest.</summary>
    public int Builds { get; private set; }

    /// <summary>Reads each build at rest; the circuit is the design again afterwards.</summary>
    /// <param name="builds">The builds.</param>
    /// <param name="levels">Between what each net swings in motion; empty when nothing moves.</param>
    public void Read(DrawnBuilds builds, IReadOnlyList<WaveLevels> levels)
    {
        swings = levels;
        for (int b = 0; b < builds.Count; b++)
        {
            builds.Set(played.Circuit, b);
            if (played.RestFrom(0, design).State is { } state)
                Take(state);
        }
        builds.Reset(played.Circuit);
    }

    /// <summary>Currents by rail.</summary>
    /// <param name="means">Mean current of each feed in motion, A; null to take the design at rest.</param>
    public ImmutableArray<ExpectedRail> Rails(double[]? means) =>
        [
            .. rails.Select((rail, i) =>
            {
                double mean = means is null || !IsFed(rail) ? Amps(rail, design) : Math.Abs(Feeds.Select((feed, k) => feed.Rail == rail ? means[k] : 0).Sum());
                double[] departures = [.. Departures(i)];
                double own = OwnCurrent(rail);
                return new ExpectedRail(rail, mean, mean + departures.Min() - (OwnLess * own), mean + departures.Max() + (OwnMore * own));
            }),
        ];

    private double OwnCurrent(string rail)
    {
        bool isAlone = Feeds.Any(feed => feed.Rail == rail && feed.Wire.StartsWith($"{member}/", StringComparison.Ordinal));
        return played.Circuit.Design.Parts.Where(part => !isAlone || part.Name.StartsWith($"{member}/", StringComparison.Ordinal)).Sum(part => part.Numbers.GetValueOrDefault("supply current"));
    }

    // A comparator that happens to rest the other way moves the current, but not its mean in motion: builds are compared
    // with the mean of those that rest as they do.
    private IEnumerable<double> Departures(int rail) =>
        drawn.Values.Where(alike => alike.Count >= FewAlike)
            .SelectMany(alike => alike.Select(amps => amps[rail] - alike.Average(other => other[rail])))
            .Append(0);

    private void Take(RestState state)
    {
        Builds++;
        for (int i = 0; i < volts.Length; i++)
            volts[i] = With(volts[i], state.X[rows[i].Row] - state.X[rows[i].Ground]);
        string resting = string.Concat(rows.Select((row, i) => "-0+"[State(i, row, state.X) + 1]));
        if (!drawn.TryGetValue(resting, out List<double[]>? alike))
            drawn[resting] = alike = [];
        alike.Add([.. rails.Select(rail => Amps(rail, state.X))]);
    }

    private double Amps(string rail, double[] x) =>
        IsFed(rail) ? Math.Abs(Feeds.Where(feed => feed.Rail == rail).Sum(feed => (x[feed.From] - x[feed.To]) / feed.Ohms))
        : Math.Abs(played.Circuit.Current(SupplyWiring.Net(rail), "plus", x, 0, Regime.Rest));

    // Low, high or between: where a net that swings happens to rest.
    private int State(int net, (int Row, int Ground) row, double[] x)
    {
        if (swings.Count == 0 || !(swings[net].Amplitude > 1))
            return 0;
        double volts = x[row.Row] - x[row.Ground];
        return volts > swings[net].At(1 - NearState) ? 1 : volts < swings[net].At(NearState) ? -1 : 0;
    }

    private bool IsFed(string rail) => Feeds.Any(feed => feed.Rail == rail);

    private IEnumerable<Feed> Into(Member member, string rail)
    {
        string[] wires = [.. SupplyWiring.Taps(member).Where(tap => tap.Rail == rail).Select(tap => tap.Name)];
        if (wires.Length == 0)
            wires = [$"{SupplyWiring.Net(rail)} resistance"];
        foreach (string wire in wires)
            if (played.Circuit.Design.Parts.FirstOrDefault(part => part.Name == wire && part.Kind.Word == "resistor") is { } part)
                yield return new(rail, wire, played.Circuit.Net(part.NetAt("from")!), played.Circuit.Net(part.NetAt("to")!), part.Number("value"));
    }

    private static (double, double, double) Start(double value) => (value, value, value);

    private static (double, double, double) With((double Design, double Least, double Most) band, double value) =>
        (band.Design, Math.Min(band.Least, value), Math.Max(band.Most, value));
}
