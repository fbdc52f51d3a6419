using System.Collections.Immutable;

namespace Consort.Engine.Design;

/// <summary>A circuit by itself: a file whose first key is <c>circuit:</c>, sources and all.</summary>
public static class CircuitFile
{
    /// <summary>Reads a circuit file, with the models of a parts.yaml beside it. The circuit is null when there are errors.</summary>
    /// <param name="path">Where it lies; also its name in messages.</param>
    public static (CircuitDesign? Design, ImmutableArray<InputError> Errors) Read(string path)
    {
        ErrorList errors = new();
        PartsLibrary library = PartsLibrary.BuiltIn.WithFolder(Path.GetDirectoryName(path) is { Length: > 0 } folder ? folder : ".", errors);
        SourceText? source = SourceText.Read(path, path.Replace('\\', '/'), errors);
        return source is null ? (null, errors.InOrder()) : Parse(source, library, errors);
    }

    /// <summary>The same from text.</summary>
    /// <param name="name">Name for messages.</param>
    public static (CircuitDesign? Design, ImmutableArray<InputError> Errors) Parse(string text, string name = "circuit.yaml") =>
        Parse(SourceText.Of(text, name), PartsLibrary.BuiltIn, new());

    /// <summary>The same from text, with a parts library of one's own.</summary>
    public static (CircuitDesign? Design, ImmutableArray<InputError> Errors) Parse(string text, string name, PartsLibrary library) =>
        Parse(SourceText.Of(text, name), library, new());

    private static (CircuitDesign? Design, ImmutableArray<InputError> Errors) Parse(SourceText source, PartsLibrary library, ErrorList errors)
    {
        if (YamlTree.ReadMap(source, errors) is not { } root)
            return (null, errors.InOrder());
        MapReader file = new(root, "circuit file", errors);
        ImmutableArray<Part> parts = [];
        if (file.Need("circuit", "circuit: {R1: {resistor: 1k, from: a, to: 0 V}, ...}") is { } entry && file.MapOf(entry) is { } circuit)
            parts = CircuitReader.Read(circuit, library, errors);
        file.Text("about");
        file.RefuseTheRest();
        return (errors.Count == 0 ? new(source.File, parts) : null, errors.InOrder());
    }
}
