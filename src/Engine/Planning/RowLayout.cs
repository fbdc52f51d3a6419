using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Engine.Planning;

/// <summary>Sets modules and multiples into rows, and measures the cords between their jacks.</summary>
/// <remarks>Multiples stand first, then the oscillators in their order; a module that no longer fits begins the next row.
/// A cord is as long as the way along and across the panels, and 15 cm for its plugs and its bow, and comes in the lengths
/// of the trade; what plays the voice stands 30 cm to the left of the case, at half its height. Common practice, no source.</remarks>
internal sealed class RowLayout
{
    private const double Slack = 0.15;
    private const double PlayerLeft = -0.3;
    private static readonly double[] Lengths = [0.15, 0.3, 0.45, 0.6, 0.9, 1.2, 1.5, 2, 3];

    private readonly Wired wired;
    private readonly ImmutableArray<RowPlace> places;
    private readonly double rowHeight;

    public RowLayout(Wired wired, double row)
    {
        this.wired = wired;
        double height = wired.Voice.Members.Max(member => member.Module.Panel.Height);
        rowHeight = height;
        places = [.. Fill(Boxes(height), row)];
    }

    /// <summary>Where a voice's modules and multiples stand, in one row or in those of its plan's case.</summary>
    public static ImmutableArray<RowPlace> Of(Voice voice, Stock stock)
    {
        ImmutableArray<StockMultiple> kinds =
        [
            .. voice.Multiples.Select(multiple => stock.Multiples.FirstOrDefault(kind => kind.Buffered == multiple.Buffered && kind.Ways == multiple.Ways && kind.Sections > 1)
                ?? new StockMultiple(multiple.Buffered, multiple.Ways, multiple.Width, 0, null, 0, multiple)),
        ];
        return new RowLayout(new(voice, kinds, [], []), voice.Plan?.Case.Row ?? 0).Places;
    }

    /// <summary>Everything in its place.</summary>
    public ImmutableArray<RowPlace> Places => places;

    /// <summary>Rows that are filled.</summary>
    public int Rows => places.Max(place => place.Row) + 1;

    /// <summary>Panel width of all together, m.</summary>
    public double Width => places.Sum(place => place.Width);

    /// <summary>The voice with lengths of cords and ribbons.</summary>
    public Voice Measured() =>
        wired.Voice with
        {
            Cords = [.. wired.Voice.Cords.Select(cord => cord with { Length = Bought(Distance(Spot(cord.From), Spot(cord.To)) + Slack) })],
            Ribbons = [.. wired.Voice.Ribbons.Select(ribbon => ribbon with { Length = Hop(ribbon) })],
        };

    // From header to header behind the panels, the longest step; whole centimetres.
    private double Hop(Ribbon ribbon)
    {
        double longest = 0;
        JackName from = ribbon.From;
        foreach (JackName to in ribbon.To)
        {
            longest = Math.Max(longest, Distance(Middle(from.Owner), Middle(to.Owner)));
            from = to;
        }
        return Math.Ceiling((longest + 0.05) * 100) / 100;
    }

    private static double Bought(double least) => Lengths.FirstOrDefault(length => length >= least, Math.Ceiling(least));

    private static double Distance((double X, double Y) a, (double X, double Y) b) => Math.Abs(a.X - b.X) + Math.Abs(a.Y - b.Y);

    private (double X, double Y) Spot(JackName jack)
    {
        if (wired.Voice.Players.Any(player => player.Name == jack.Owner))
            return (PlayerLeft, Rows * rowHeight / 2);
        Member? member = wired.Voice.Members.FirstOrDefault(member => member.Name == jack.Owner);
        RowPlace box = BoxOf(jack.Owner);
        PanelPlace? place = member?.Module.Panel.Layout?.Places.FirstOrDefault(place =>
            place.Kind == "jack" && member.Module.Circuit.First(part => part.Name == place.Part).Texts["label"] == jack.Label);
        return place is null ? Middle(jack.Owner) : (box.Left + place.X, (box.Row * rowHeight) + place.Y);
    }

    private (double X, double Y) Middle(string owner)
    {
        RowPlace box = BoxOf(owner);
        return (box.Left + (box.Width / 2), (box.Row * rowHeight) + (box.Height / 2));
    }

    private RowPlace BoxOf(string owner) => places.First(place => place.Name == owner || place.Holds.Contains(owner));

    private IEnumerable<RowPlace> Boxes(double height)
    {
        foreach (IGrouping<StockMultiple, string> kind in wired.Voice.Multiples.Zip(wired.Kinds).GroupBy(pair => pair.Second, pair => pair.First.Name))
            foreach (string[] module in kind.Chunk(kind.Key.Sections))
                yield return new($"{(kind.Key.Buffered ? "buffered" : "passive")} multiple", 0, 0, kind.Key.Width, height, [.. module]);
        foreach (Member member in wired.Voice.Members)
            yield return new(member.Name, 0, 0, member.Module.Panel.Width, member.Module.Panel.Height, []);
    }

    private static IEnumerable<RowPlace> Fill(IEnumerable<RowPlace> boxes, double row)
    {
        double left = 0;
        int at = 0;
        foreach (RowPlace box in boxes)
        {
            if (row > 0 && left > 0 && left + box.Width > row + 1e-9)
                (left, at) = (0, at + 1);
            yield return box with { Row = at, Left = left };
            left += box.Width;
        }
    }
}
