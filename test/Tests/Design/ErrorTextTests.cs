using System.Collections.Immutable;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

/// <summary>Whole error texts, as a person reads them, for files in which every line holds a mistake.</summary>
public sealed class ErrorTextTests
{
    [Theory]
    [InlineData("parts")]
    [InlineData("nets")]
    [InlineData("ground")]
    public void A_circuits_mistakes_are_told_in_one_run(string name)
    {
        string file = $"{name}.yaml";
        (CircuitDesign? design, ImmutableArray<InputError> errors) = CircuitFile.Parse(Input(file), file);
        Assert.Null(design);
        Golden.Same($"design/{name}.txt", Text(errors));
    }

    [Theory]
    [InlineData("module")]
    [InlineData("pitch")]
    [InlineData("panel")]
    public void A_modules_mistakes_are_told_in_one_run(string name)
    {
        string file = $"{name}.yaml";
        (Module? module, ImmutableArray<InputError> errors) = ModuleReader.Parse(Input(file), file);
        Assert.Null(module);
        Golden.Same($"design/{name}.txt", Text(errors));
    }

    [Fact]
    public void A_parts_librarys_mistakes_are_told_in_one_run()
    {
        ErrorList errors = new();
        Assert.Empty(LibraryReader.Read(SourceText.Of(Input("library.yaml"), "library.yaml"), errors));
        Golden.Same("design/library.txt", Text(errors.InOrder()));
    }

    [Fact]
    public void An_error_is_rendered_as_place_words_line_carets_and_mend()
    {
        InputError error = new("C012", new("modules/lead.yaml", 14, 18, 4), "R7: '4k7k' is not a resistance",
            "use one multiplier, as 4.7k or 4k7", "  R7: {resistor: 4k7k, from: sum, to: bus}");
        Assert.Equal("""
            modules/lead.yaml:14:18: error C012: R7: '4k7k' is not a resistance
              14 |   R7: {resistor: 4k7k, from: sum, to: bus}
                 |                  ^^^^
              mend: use one multiplier, as 4.7k or 4k7
            """.ReplaceLineEndings("\n"), error.Render());
    }

    [Fact]
    public void A_long_line_is_shown_around_its_caret()
    {
        string line = new string('a', 5000) + "X" + new string('b', 5000);
        string[] lines = new InputError("C012", new("f", 1, 5001, 1), "w", "m", line).Render().Split('\n');
        Assert.True(lines[1].Length < 130);
        Assert.Equal('X', lines[1][lines[2].IndexOf('^', StringComparison.Ordinal)]);
    }

    [Fact]
    public void Control_characters_of_the_input_do_not_reach_the_terminal() =>
        Assert.DoesNotContain('\u001B', new InputError("C012", new("f", 1, 1, 1), "'\u001B[2J'", "m\u001B", "x\u001B[2J\ty").Render());

    [Fact]
    public void Errors_stand_in_the_order_of_the_file()
    {
        ImmutableArray<InputError> errors = CircuitFile.Parse(Input("parts.yaml")).Errors;
        Assert.Equal(errors.Select(e => (e.At.Line, e.At.Column)).Order(), errors.Select(e => (e.At.Line, e.At.Column)));
    }

    private static string Input(string file) => File.ReadAllText(Path.Combine(Golden.Root, "test", "Golden", "design", file));

    private static string Text(IEnumerable<InputError> errors) => string.Concat(errors.Select(e => e.Render() + "\n"));
}
