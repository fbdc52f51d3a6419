using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class PartsLibraryTests
{
    [Fact]
    public void Every_entry_of_the_programs_own_library_reads_and_names_its_sheet()
    {
        ErrorList errors = new();
        foreach (SourceText file in PartsLibrary.OwnFiles())
            Assert.All(LibraryReader.Read(file, errors), entry => Assert.True(entry.Sheet.Length > 8, $"{entry.Name}: '{entry.Sheet}'"));
        Assert.True(errors.Count == 0, string.Join('\n', errors.InOrder().Select(e => e.Render())));
    }

    [Fact]
    public void A_folders_own_entries_count_before_the_programs()
    {
        string folder = Directory.CreateTempSubdirectory("consort-parts").FullName;
        try
        {
            File.WriteAllText(Path.Combine(folder, "parts.yaml"), "TL072: {kind: op amp, sheet: measured here, offset within: 1 mV}\nnew one: {kind: op amp, sheet: measured here}\n");
            ErrorList errors = new();
            PartsLibrary library = ExampleCircuits.Library.WithFolder(folder, errors);
            PartKind kind = PartKinds.Find("op amp")!;
            Assert.Equal(0, errors.Count);
            Assert.Equal(1e-3, library.Find(kind, "TL072")!.Numbers["offset within"]);
            Assert.Contains("new one", library.Names(kind));
            Assert.Null(library.Find(PartKinds.Find("npn")!, "new one"));

            File.WriteAllText(Path.Combine(folder, "c.yaml"), "circuit:\n  U1: {op amp: new one, plus: 0 V, minus: o, out: o, supply: [a, b]}\n  R1: {resistor: 1k, from: a, to: 0 V}\n  R2: {resistor: 1k, from: b, to: 0 V}\n");
            Assert.NotNull(CircuitFile.Read(Path.Combine(folder, "c.yaml")).Design);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_model_is_found_by_kind_and_name_together()
    {
        Assert.NotNull(ExampleCircuits.Library.Find(PartKinds.Find("npn")!, "2N3904"));
        Assert.Null(ExampleCircuits.Library.Find(PartKinds.Find("pnp")!, "2N3904"));
    }
}
