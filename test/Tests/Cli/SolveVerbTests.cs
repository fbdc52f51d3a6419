using System.Text.Json;
using Consort.Cli;
using Consort.Cli.Verbs;
using Consort.Engine.Design;
using Consort.Tests.Circuit.Wiring;
using Xunit;

namespace Consort.Tests.Cli;

public sealed class SolveVerbTests
{
    // +12 V over 10 kΩ, -12 V over 22 kΩ, 0 V over 4.7 kΩ at one node: Millman's theorem gives 1.82721382289 V.
    private static readonly CircuitDesign Millman = new(
        "millman",
        [
            Make.Part("V1", "voltage source", 12, "+12 V", "0 V"),
            Make.Part("V2", "voltage source", -12, "-12 V", "0 V"),
            Make.Part("R1", "resistor", 10e3, "+12 V", "node"),
            Make.Part("R2", "resistor", 22e3, "-12 V", "node"),
            Make.Part("R3", "resistor", 4.7e3, "node", "0 V"),
        ]
    );

    // 1 V stepping in 1 ns over 1 kΩ into 1 nF.
    private static readonly CircuitDesign Step = new(
        "step",
        [
            With(Make.Part("V1", "voltage source", 1, "in", "0 V"), ("before", 0), ("starts", 0), ("rise", 1e-9)),
            Make.Part("R1", "resistor", 1e3, "in", "out"),
            Make.Part("C1", "capacitor", 1e-9, "out", "0 V"),
        ]
    );

    [Fact]
    public void The_json_of_an_operating_point_holds_nets_and_currents_in_full_precision()
    {
        JsonElement json = JsonDocument.Parse(Solve(Millman, new("any", Json: true)).Output).RootElement;
        Assert.Equal(1.82721382289, json.GetProperty("nets").GetProperty("node").GetDouble(), 1e-11);
        JsonElement current = json.GetProperty("parts").GetProperty("R3");
        Assert.Equal(1.82721382289 / 4.7e3, current.GetProperty("from").GetDouble(), 1e-14);
        Assert.Equal(0, current.GetProperty("from").GetDouble() + current.GetProperty("to").GetDouble(), 1e-18);
    }

    [Fact]
    public void The_tables_of_an_operating_point_read_as_kept() =>
        Golden.Same("cli/solve-rest.txt", Solve(Millman, new("any")).ToString());

    [Fact]
    public void The_table_of_a_run_reads_as_kept() =>
        Golden.Same("cli/solve-run.txt", Solve(Step, new("any", Until: 5e-6, Points: 6, Nets: ["out"])).ToString());

    [Fact]
    public void A_run_follows_the_step_response_and_its_capacitor_takes_the_rest_of_the_current()
    {
        // 1 - exp(-t/RC) is 0.632120558829 after one time constant (textbook), here begun half the rise late.
        JsonElement json = JsonDocument.Parse(Solve(Step, new("any", Until: 1.0005e-6, Tolerance: 1e-8, Points: 2, Json: true)).Output).RootElement;
        Assert.Equal(0.632120558829, json.GetProperty("nets").GetProperty("out").GetDouble(), 1e-6);
        JsonElement parts = json.GetProperty("parts");
        double into = parts.GetProperty("C1").GetProperty("from").GetDouble();
        Assert.Equal(0.367879441e-3, into, 1e-7);
        Assert.Equal(-into, parts.GetProperty("R1").GetProperty("to").GetDouble(), 1e-7);
    }

    [Fact]
    public void A_net_that_is_not_there_is_bad_input_with_the_near_name()
    {
        Call call = Solve(Millman, new("any", Nets: ["nod"]));
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Contains("did you mean 'node'?", call.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("no-unit", "--until", "2")]
    [InlineData("volt-for-time", "--until", "2 V")]
    [InlineData("cold", "--temperature", "-200 °C")]
    [InlineData("negative-tolerance", "--tolerance", "-1e-6")]
    [InlineData("one-point", "--points", "1")]
    [InlineData("points-in-words", "--points", "many")]
    public async Task A_wrong_value_on_the_command_line_is_bad_input(string name, string option, string value)
    {
        Call call = await Call.Of("solve", "nowhere.yaml", option, value);
        Assert.Equal(Exit.BadInput, call.Code);
        Assert.Empty(call.Output);
        Golden.Same($"cli/error-solve-{name}.txt", call.Error);
    }

    private static Part With(Part part, params (string Word, double Value)[] numbers) =>
        part with { Numbers = part.Numbers.SetItems(numbers.Select(number => KeyValuePair.Create(number.Word, number.Value))) };

    private static Call Solve(CircuitDesign design, SolveVerb.Request request)
    {
        (Screen screen, StringWriter output, StringWriter error) = Call.Paper();
        int code = new SolveVerb(screen, _ => (design, [])).Run(request, CancellationToken.None);
        return new(code, output.ToString(), error.ToString());
    }
}
