using System.Collections.Immutable;
using Consort.Engine.Design;

namespace Consort.Tests.Circuit.Wiring;

/// <summary>Small voices made in code, so that these tests need no reader.</summary>
internal static class Make
{
    public static readonly SourceSpan Nowhere = SourceSpan.None;

    public static Part Part(string name, string kind, double value, params string[] nets)
    {
        PartKind found = PartKinds.Find(kind)!;
        string single = found.FreeList?[..^1] ?? "";
        int stated = found.FreeList is null ? nets.Length : found.Terminals.Length;
        return new(
            name,
            found,
            [
                .. nets.Select(
                    (net, i) => new Joint(i < stated ? found.Terminals[i].Word : $"{single} {i - stated + 1}", net)
                ),
            ],
            found
                .Parameters.Where(parameter => parameter.Default is not null)
                .ToImmutableDictionary(parameter => parameter.Word, parameter => parameter.Default!.Value)
                .SetItem("value", value),
            found
                .Texts.Where(text => text.Default is not null)
                .ToImmutableDictionary(text => text.Word, text => text.Default!),
            [],
            Nowhere
        );
    }

    public static Part Jack(string name, string label, string direction, string tip, string? normal = null)
    {
        Part jack = Part(name, "jack", 0, normal is null ? [tip] : [tip, normal]);
        return jack with { Texts = jack.Texts.SetItem("label", label).SetItem("value", direction) };
    }

    public static Part Header(string name, string label, string role, params string[] pins)
    {
        Part header = Part(name, "header", 0, pins);
        return header with { Texts = header.Texts.SetItem("value", label).SetItem("role", role) };
    }

    public static Module Module(string name, params Part[] parts) =>
        new(name, "", new(0.1, 0.13, 0.04), [.. parts], null, [], null, Nowhere);

    public static Member Member(string name, Module module) =>
        new(name, module, 0, ImmutableDictionary<string, double>.Empty, Nowhere);

    public static readonly Limits Limits = new(3, 5, 1, 20, 288.15, 308.15, 3, null);

    public static readonly Supply Supply = new(
        [new("+12 V", 12, 0.02, 0, 1), new("-12 V", -12, 0.02, 0, 1)],
        0.015,
        0.005
    );

    public static Voice Voice(params Member[] members) =>
        new("test", "", [.. members], [], [], [], [], Supply, Limits);

    public static Player Player(string name, double ohms, double volts) =>
        new(name, true, ohms, 0, 9, volts, Nowhere);

    public static Cord Cord(string from, string to, double length = 0.6) =>
        new(Name(from), Name(to), length, Nowhere);

    public static JackName Name(string text) => new(text.Split('/')[0], text.Split('/')[1]);

    /// <summary>A voice of a lead and followers that hang on its ribbon; each has a power connector.</summary>
    public static Voice Linked(int followers, double length = 0.12)
    {
        string[] pins = ["pitch bus", "0 V", "sync", "+12 V"];
        Module lead = Module(
            "lead",
            Part("X1", "power", 0, "+12 V", "0 V", "-12 V"),
            Header("H1", "link", "lead", pins),
            Part("R1", "resistor", 100e3, "pitch bus", "0 V")
        );
        Module follower = Module(
            "follower",
            Part("X1", "power", 0, "+12 V", "0 V", "-12 V"),
            Header("H1", "link", "follower", pins),
            Part("R1", "resistor", 100e3, "pitch bus", "0 V"),
            Part("RV1", "trimmer", 10e3, "pitch bus", "trimmed", "0 V")
        );
        Member[] members =
        [
            Member("lead", lead),
            .. Enumerable.Range(1, followers).Select(i => Member($"follower {i}", follower)),
        ];
        return Voice(members) with
        {
            Ribbons =
            [
                new(
                    Name("lead/link"),
                    [.. members.Skip(1).Select(member => new JackName(member.Name, "link"))],
                    length,
                    28,
                    Nowhere
                ),
            ],
        };
    }
}
