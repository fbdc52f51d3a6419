using System.Net;
using System.Text;

namespace Consort.Engine.Documents;

/// <summary>A line chart as inline SVG. Lines are told apart by dash, marker and a label at their end as well as by
/// colour, so that it reads in black and white; colours come from the page's style sheet.</summary>
internal sealed class Chart(double width, double height, ChartAxis x, ChartAxis y, string description)
{
    private const double Left = 58;
    private const double Bottom = 44;
    private const double CharacterWidth = 6.4;
    private const double LabelHeight = 14;

    private static readonly string[] Dashes = ["", "7 4", "2 3", "9 3 2 3", "14 4", "5 2 1 2 1 2"];

    private readonly List<string> under = [];
    private readonly List<string> over = [];
    private readonly List<EndLabel> labels = [];
    private readonly List<(double X, string Text)> topTicks = [];
    private string topTitle = "";
    private double right = 16;

    private sealed record EndLabel(double Y, string Text, string Class);

    private double Top => topTitle.Length > 0 ? 44 : 14;

    private double PlotRight => width - right;

    /// <summary>Room at the right for the longest label; to be called before anything is drawn.</summary>
    public Chart LabelsFrom(IEnumerable<string> texts)
    {
        right = Math.Min(width * 0.4, 22 + CharacterWidth * texts.Max(text => text.Length));
        return this;
    }

    /// <summary>A second scale along the top edge.</summary>
    public Chart TopScale(string title, IEnumerable<(double X, string Text)> ticks)
    {
        topTitle = title;
        double last = double.NegativeInfinity;
        foreach ((double at, string text) in ticks)
        {
            double reach = CharacterWidth * text.Length;
            if (XPixel(at) - last < reach + 4)
                continue;
            topTicks.Add((at, text));
            last = XPixel(at);
        }
        return this;
    }

    /// <summary>The region between two heights that is allowed.</summary>
    public Chart Band(double low, double high)
    {
        double upper = YPixel(Math.Min(high, y.High)), lower = YPixel(Math.Max(low, y.Low));
        under.Add($"""<rect class="band" x="{Left:0.#}" y="{upper:0.#}" width="{PlotRight - Left:0.#}" height="{lower - upper:0.#}"/>""");
        return this;
    }

    /// <summary>The region between two positions that is asked about.</summary>
    public Chart Span(double from, double to, string text)
    {
        double a = XPixel(Math.Max(from, x.Low)), b = XPixel(Math.Min(to, x.High));
        under.Add($"""<line class="span" x1="{a:0.#}" x2="{b:0.#}" y1="{height - Bottom - 5:0.#}" y2="{height - Bottom - 5:0.#}"/>""");
        over.Add(Text((a + b) / 2, height - Bottom - 10, "note", "middle", text));
        return this;
    }

    /// <summary>A level, named at its right end.</summary>
    public Chart Level(double at, string text)
    {
        if (at < y.Low || at > y.High)
            return this;
        under.Add($"""<line class="limit" x1="{Left:0.#}" x2="{PlotRight:0.#}" y1="{YPixel(at):0.#}" y2="{YPixel(at):0.#}"/>""");
        if (text.Length > 0)
            labels.Add(new(YPixel(at), text, "limit-text"));
        return this;
    }

    /// <summary>A position, named at the top of the plot or at its foot, where a line leaves room.</summary>
    public Chart Position(double at, string text, bool atFoot = false)
    {
        double px = XPixel(at);
        bool leftward = px > (Left + PlotRight) / 2;
        under.Add($"""<line class="position" x1="{px:0.#}" x2="{px:0.#}" y1="{Top:0.#}" y2="{height - Bottom:0.#}"/>""");
        if (text.Length > 0)
            over.Add(Text(px + (leftward ? -5 : 5), atFoot ? height - Bottom - 6 : Top + 12, "note", leftward ? "end" : "start", text));
        return this;
    }

    /// <summary>A line through points, broken where a value is not finite.</summary>
    public Chart Line(string name, IReadOnlyList<(double X, double Y)> points, int style, bool labelled = true, bool marked = true)
    {
        StringBuilder path = new();
        bool isOpen = false;
        foreach ((double px, double py) in points)
        {
            if (!double.IsFinite(py))
            {
                isOpen = false;
                continue;
            }
            path.Append(isOpen ? " L" : " M").Append($"{XPixel(px):0.#} {YPixel(py):0.#}");
            isOpen = true;
        }
        over.Add($"""<path class="line s{style % 6}" stroke-dasharray="{Dashes[style % Dashes.Length]}" d="{path.ToString().Trim()}"/>""");
        foreach ((double px, double py) in points)
            if (marked && double.IsFinite(py))
                over.Add(Marker(XPixel(px), YPixel(py), style));
        if (labelled && points.LastOrDefault(point => double.IsFinite(point.Y)) is { Y: var last } && path.Length > 0)
            labels.Add(new(YPixel(last), name, $"label t{style % 6}"));
        return this;
    }

    /// <summary>The SVG element.</summary>
    public string Render()
    {
        StringBuilder svg = new();
        svg.AppendLine($"""<svg viewBox="0 0 {width:0} {height:0}" width="{width:0}" height="{height:0}" role="img" aria-label="{WebUtility.HtmlEncode(description)}">""");
        svg.AppendJoin('\n', under).AppendLine();
        foreach (string line in Scales().Concat(over).Concat(EndLabels()))
            svg.AppendLine(line);
        return svg.Append("</svg>").ToString();
    }

    private double XPixel(double value) => Left + (value - x.Low) / (x.High - x.Low) * (PlotRight - Left);

    private double YPixel(double value) =>
        height - Bottom - (Math.Clamp(value, y.Low, y.High) - y.Low) / (y.High - y.Low) * (height - Bottom - Top);

    private IEnumerable<string> Scales()
    {
        double bottom = height - Bottom, middle = (Left + PlotRight) / 2;
        foreach (double tick in y.Ticks())
        {
            string kind = Math.Abs(tick) < 1e-9 * y.Step ? "zero" : "grid";
            yield return $"""<line class="{kind}" x1="{Left:0.#}" x2="{PlotRight:0.#}" y1="{YPixel(tick):0.#}" y2="{YPixel(tick):0.#}"/>""";
            yield return Text(Left - 6, YPixel(tick) + 4, "tick", "end", y.Label(tick));
        }
        foreach (double tick in x.Ticks())
        {
            yield return $"""<line class="edge" x1="{XPixel(tick):0.#}" x2="{XPixel(tick):0.#}" y1="{bottom:0.#}" y2="{bottom + 4:0.#}"/>""";
            yield return Text(XPixel(tick), bottom + 17, "tick", "middle", x.Label(tick));
        }
        foreach ((double at, string text) in topTicks)
        {
            yield return $"""<line class="edge" x1="{XPixel(at):0.#}" x2="{XPixel(at):0.#}" y1="{Top - 4:0.#}" y2="{Top:0.#}"/>""";
            yield return Text(XPixel(at), Top - 8, "tick", "middle", text);
        }
        yield return $"""<rect class="frame" x="{Left:0.#}" y="{Top:0.#}" width="{PlotRight - Left:0.#}" height="{bottom - Top:0.#}"/>""";
        yield return Text(middle, height - 8, "title", "middle", x.Title);
        if (topTitle.Length > 0)
            yield return Text(middle, 13, "title", "middle", topTitle);
        double centre = (Top + bottom) / 2;
        yield return $"""<text class="title" text-anchor="middle" transform="translate(14 {centre:0.#}) rotate(-90)">{WebUtility.HtmlEncode(y.Title)}</text>""";
    }

    /// <summary>Labels pushed apart so that none lies on another, each with a thin lead to its line.</summary>
    private IEnumerable<string> EndLabels()
    {
        EndLabel[] sorted = [.. labels.OrderBy(label => label.Y)];
        double[] at = [.. sorted.Select(label => label.Y)];
        for (int i = 1; i < at.Length; i++)
            at[i] = Math.Max(at[i], at[i - 1] + LabelHeight);
        double floor = height - Bottom;
        for (int i = at.Length - 1; i >= 0; i--)
        {
            at[i] = Math.Min(at[i], floor);
            floor = at[i] - LabelHeight;
        }
        for (int i = 0; i < sorted.Length; i++)
        {
            yield return $"""<path class="lead" d="M{PlotRight + 1:0.#} {sorted[i].Y:0.#} L{PlotRight + 12:0.#} {at[i]:0.#}"/>""";
            yield return Text(PlotRight + 15, at[i] + 4, sorted[i].Class, "start", sorted[i].Text);
        }
    }

    private static string Marker(double px, double py, int style)
    {
        string shape = (style % 4) switch
        {
            0 => $"M{px - 3:0.#} {py:0.#}a3 3 0 1 0 6 0a3 3 0 1 0 -6 0Z",
            1 => $"M{px - 3:0.#} {py - 3:0.#}h6v6h-6Z",
            2 => $"M{px:0.#} {py - 4:0.#}l4 7h-8Z",
            _ => $"M{px:0.#} {py - 4:0.#}l4 4l-4 4l-4 -4Z",
        };
        return $"""<path class="marker m{style % 6}" d="{shape}"/>""";
    }

    private static string Text(double px, double py, string kind, string anchor, string text) =>
        $"""<text class="{kind}" x="{px:0.#}" y="{py:0.#}" text-anchor="{anchor}">{WebUtility.HtmlEncode(text)}</text>""";
}
