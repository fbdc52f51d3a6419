using Consort.Engine.Design;

namespace Consort.Tests.Design;

/// <summary>A parts library for tests of reading: models without a number of their own.</summary>
internal static class ExampleCircuits
{
    /// <summary>Every model that the examples name, on top of the program's own.</summary>
    public static PartsLibrary Library { get; } = Load();

    /// <summary>All module files of examples/ and the golden inputs: path from the root, text.</summary>
    public static IReadOnlyList<(string Name, string Text)> Files { get; } =
    [
        .. Directory.EnumerateFiles(Path.Combine(Golden.Root, "examples"), "*.yaml", SearchOption.AllDirectories)
            .Where(path => path.Contains("modules", StringComparison.Ordinal))
            .Concat(Directory.EnumerateFiles(Path.Combine(Golden.Root, "test", "Golden", "design"), "*.yaml"))
            .Order(StringComparer.Ordinal)
            .Select(path => (Path.GetRelativePath(Golden.Root, path), File.ReadAllText(path))),
    ];

    private static PartsLibrary Load()
    {
        const string text = """
            TL072: {kind: op amp, sheet: for tests, offset within: 10 mV, gain-bandwidth: 3 MHz}
            LM311: {kind: comparator, sheet: for tests, output: open collector}
            2N3904: {kind: npn, sheet: for tests, forward gain: 200}
            matched NPN dual: {kind: matched pair, sheet: for tests, polarity: npn, emitter resistance: 0.4, offset within: 50 µV, gradient: 1 mK}
            """;
        ErrorList errors = new();
        PartsLibrary library = PartsLibrary.BuiltIn.With(LibraryReader.Read(SourceText.Of(text, "tests"), errors));
        return errors.Count == 0 ? library : throw new InvalidOperationException(errors.InOrder()[0].Render());
    }
}
