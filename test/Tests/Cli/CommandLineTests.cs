using Consort.Cli;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class CommandLineTests
{
    [Theory]
    [InlineData("help", "--help")]
    [InlineData("help-prove", "prove", "--help")]
    [InlineData("help-measure", "measure", "--help")]
    [InlineData("help-trim", "trim", "--help")]
    [InlineData("help-units", "units", "--help")]
    [InlineData("help-units-record", "units", "record", "--help")]
    [InlineData("help-diagnose", "diagnose", "--help")]
    [InlineData("help-kinds", "kinds", "--help")]
    [InlineData("help-solve", "solve", "--help")]
    [InlineData("help-schema", "schema", "--help")]
    [InlineData("help-parts", "parts", "--help")]
    [InlineData("help-afford", "afford", "--help")]
    [InlineData("help-retune", "retune", "--help")]
    [InlineData("help-scope", "scope", "--help")]
    [InlineData("help-panel", "panel", "--help")]
    [InlineData("help-listen", "listen", "--help")]
    [InlineData("help-plan", "plan", "--help")]
    [InlineData("help-pack", "pack", "--help")]
    [InlineData("help-open", "open", "--help")]
    [InlineData("help-lock", "lock", "--help")]
    [InlineData("kinds-resistor", "kinds", "resistor")]
    public async Task Help_and_lists_read_as_kept(string name, params string[] arguments)
    {
        Call call = await Call.Of(arguments);
        Assert.Equal(Exit.Done, call.Code);
        Assert.Empty(call.Error);
        Golden.Same($"cli/{name}.txt", call.Output);
    }

    [Theory]
    [InlineData("no-verb")]
    [InlineData("unknown-verb", "improve", "examples/quartet")]
    [InlineData("unknown-option", "prove", "examples/quartet", "--fast")]
    [InlineData("two-folders", "prove", "one", "two")]
    [InlineData("no-folder", "prove")]
    [InlineData("why-and-json", "prove", "examples/quartet", "--why", "tracking", "--json")]
    [InlineData("measure-words", "measure", "v", "--unit", "a/1", "x.csv", "--control", "1 A, 2 V", "--mains", "55", "--channel", "0", "--reference-frequency", "440 Hz")]
    [InlineData("unknown-kind", "kinds", "valve")]
    [InlineData("unknown-schema", "schema", "rack")]
    [InlineData("listen-nothing", "listen", "examples/pair", "--out", "pair.wav", "--rate", "48001", "--bits", "8")]
    [InlineData("listen-above", "listen", "examples/pair", "--out", "pair.wav", "--notes", "A4 1 s", "--level", "3 dB")]
    [InlineData("scope-no-unit", "scope", "examples/quartet", "--time-per-division", "3")]
    public async Task A_wrong_call_is_bad_input_and_writes_no_result(string name, params string[] arguments)
    {
        Call call = await Call.Of(arguments);
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Empty(call.Output);
        Golden.Same($"cli/error-{name}.txt", call.Error);
    }

    [Fact]
    public async Task A_word_that_begins_with_an_at_sign_is_a_name_and_not_a_file_of_arguments()
    {
        Call call = await Call.Of("kinds", "@nowhere");
        Assert.Contains("'@nowhere' is no kind of part", call.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_line_is_wider_than_a_hundred_columns()
    {
        foreach (string[] arguments in new[] { ["--help"], ["prove", "--help"], ["scope", "--help"], ["listen", "--help"], ["lock", "--help"], ["kinds"], new[] { "kinds", "op amp" } })
            foreach (string line in (await Call.Of(arguments)).Output.Split('\n'))
                Assert.True(line.Length <= Screen.PlainWidth, line);
    }
}
