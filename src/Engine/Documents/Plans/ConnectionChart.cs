using System.Collections.Immutable;
using System.Globalization;
using Consort.Engine.Design;
using Consort.Engine.Documents.Files;

namespace Consort.Engine.Documents.Plans;

/// <summary>Who is plugged into whom: givers to the left, takers to the right, each cord a numbered line, ribbons double.
/// Drawn in black on white; numbers at both ends tell lines apart where they cross.</summary>
public static class ConnectionChart
{
    private const double Row = 6, Wide = 60, Left = 66, Right = 154, Total = 220, Top = 18;

    /// <summary>The drawing.</summary>
    public static LineArt Draw(Voice voice, string title)
    {
        Side givers = new([.. voice.Cords.Select(cord => cord.From), .. voice.Ribbons.Select(ribbon => ribbon.From)]);
        Side takers = new([.. voice.Cords.Select(cord => cord.To), .. voice.Ribbons.SelectMany(ribbon => ribbon.To)]);
        double bottom = Math.Max(givers.Bottom, takers.Bottom) + 4;
        LineArt art = new(title, Total, bottom + 8);
        art.Text(title, 6, 9, 5, bold: true);
        int number = 0;
        foreach (Ribbon ribbon in voice.Ribbons)
            foreach (JackName to in ribbon.To)
                DrawRibbon(art, (Left, givers.Y(ribbon.From)), (Right, takers.Y(to)));
        foreach (Cord cord in voice.Cords)
            DrawCord(art, givers.Y(cord.From), takers.Y(cord.To), $"{++number}", string.Create(CultureInfo.InvariantCulture, $"{100 * cord.Length:0} cm"));
        givers.Draw(art, Left, isLeft: true);
        takers.Draw(art, Right, isLeft: false);
        Key(art, bottom, !voice.Cords.IsEmpty, !voice.Ribbons.IsEmpty);
        return art;
    }

    private static void DrawCord(LineArt art, double from, double to, string number, string length)
    {
        art.Line(0.3, 0, (Left, from), (Left + 8, from), (Right - 22, to), (Right, to));
        art.Text(number, Left + 2, from - 0.8, 3.2).Text(number, Right - 2, to - 0.8, 3.2, Anchor.Right).Text(length, Right - 9, to - 0.8, 2.8, Anchor.Right);
    }

    private static void DrawRibbon(LineArt art, (double X, double Y) from, (double X, double Y) to) => art.Line(1.8, 0, from, to).Line(1.1, 1, from, to);

    private static void Key(LineArt art, double y, bool hasCords, bool hasRibbons)
    {
        if (hasCords)
            art.Line(0.3, 0, (6, y), (18, y)).Text("cord, with its number and length", 20, y + 1, 3.2);
        if (hasRibbons)
            DrawRibbon(art, (100, y), (112, y));
        art.Text(hasRibbons ? "ribbon behind the panels" : "", 114, y + 1, 3.2);
    }

    /// <summary>One side of the chart: owners in boxes, their jacks one below the other.</summary>
    private sealed class Side
    {
        private readonly ImmutableArray<(string Owner, ImmutableArray<JackName> Jacks, double Top)> groups;
        private readonly Dictionary<JackName, double> y = [];

        public Side(ImmutableArray<JackName> jacks)
        {
            double at = Top;
            List<(string, ImmutableArray<JackName>, double)> all = [];
            foreach (IGrouping<string, JackName> owner in jacks.Distinct().GroupBy(jack => jack.Owner))
            {
                all.Add((owner.Key, [.. owner], at));
                at += 3;
                foreach (JackName jack in owner)
                {
                    y[jack] = at;
                    at += Row;
                }
                at += 1;
            }
            groups = [.. all];
            Bottom = at;
        }

        public double Bottom { get; }

        public double Y(JackName jack) => y[jack];

        public void Draw(LineArt art, double edge, bool isLeft)
        {
            foreach ((string owner, ImmutableArray<JackName> jacks, double top) in groups)
            {
                double height = (jacks.Length * Row) - 0.5;
                art.Box(isLeft ? edge - Wide : edge, top, Wide, height, 0.3);
                art.Text(Short(owner), isLeft ? edge - Wide + 2 : edge + Wide - 2, top + (height / 2) + 1.2, 3.4, isLeft ? Anchor.Left : Anchor.Right, bold: true);
                foreach (JackName jack in jacks)
                    art.Text(Short(jack.Label), isLeft ? edge - 2 : edge + 2, Y(jack) + 1.2, 3.4, isLeft ? Anchor.Right : Anchor.Left);
            }
        }

        private static string Short(string owner) => owner.Length > 16 ? owner[..15] + "…" : owner;
    }
}
