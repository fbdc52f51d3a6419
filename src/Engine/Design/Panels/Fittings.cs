using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>Usual forms of panel parts. Dimensions are typical of such parts, from memory, no source: measure yours, and
/// state it under <c>fittings</c> where it differs. A plug's body and fingers set the room in front.</summary>
public static class Fittings
{
    private const double Mm = 1e-3;

    /// <summary>All of them, with the kind of part that each is for.</summary>
    public static ImmutableArray<(string Kind, Fitting Fitting)> All { get; } =
    [
        ("jack", Of("jack 3.5 mm", hole: 6.2, nut: 8, knob: 0, hand: 11, body: (9, 10.5), depth: 9.5)),
        ("jack", Of("jack 6.35 mm", hole: 9.8, nut: 14.5, knob: 0, hand: 18, body: (16, 22), depth: 22)),
        ("potentiometer", Of("small potentiometer", hole: 7.2, nut: 11.5, knob: 13, hand: 22, body: (9.8, 11.5), depth: 9.5)),
        ("potentiometer", Of("wide potentiometer", hole: 7.4, nut: 12, knob: 20, hand: 30, body: (17, 20), depth: 12)),
        ("selector", Of("toggle switch", hole: 6.4, nut: 9.2, knob: 0, hand: 15, body: (8, 13), depth: 9.5)),
        ("selector", Of("rotary switch", hole: 9.7, nut: 14.5, knob: 20, hand: 30, body: (27, 27), depth: 20)),
        ("trimmer", Of("trimmer hole", hole: 3.2, nut: 0, knob: 0, hand: 4, body: (9.6, 5), depth: 9.5)),
    ];

    /// <summary>The usual form of a kind of part; null for kinds that do not stand on a panel.</summary>
    public static Fitting? Usual(string kind) => All.FirstOrDefault(pair => pair.Kind == kind).Fitting;

    private static Fitting Of(string word, double hole, double nut, double knob, double hand, (double Width, double Height) body, double depth) =>
        new(word, hole * Mm, nut * Mm, knob * Mm, hand * Mm, body.Width * Mm, body.Height * Mm, depth * Mm);
}
