using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design;

public sealed class ModuleReaderTests
{
    private static Module Read(string text)
    {
        (Module? module, var errors) = ModuleReader.Parse(text, "f");
        Assert.True(module is not null, string.Join('\n', errors.Select(e => e.Render())));
        return module;
    }

    [Fact]
    public void A_module_with_a_circuit_has_its_panel_pitch_and_trims()
    {
        Module module = Read("""
            module: little saw
            about: A core.
            panel: {width: 8 HP, height: 3 U, depth: 45 mm}
            pitch: {control: pitch, law: 1 V/oct, reference: 32.703 Hz at 0 V, counted: falling through -2.5 V on saw core, timing capacitor: C1}
            trims:
              - {trimmer: RV1, for: tracking, low: 1 V, high: 5 V}
              - {trimmer: RV1, for: centre, at: 3 V}
              - {trimmer: RV1, for: high end, at: 8 V}
              - {trimmer: RV1, for: other}
            circuit:
              J1: {jack: input, label: pitch, tip: in, normal: 0 V}
              RV1: {trimmer: 10k, ccw: in, wiper: saw core, cw: 0 V}
              C1: {capacitor: 1n, starts at: 0 V, from: saw core, to: 0 V}
            """);
        Assert.Equal(("little saw", "A core."), (module.Name, module.About));
        Assert.Equal((0.04064, 0.13335, 0.045), (module.Panel.Width, module.Panel.Height, module.Panel.Depth));
        Assert.Equal(new PitchSpec("pitch", 1, 32.703, 0, "saw core", -2.5, false, "C1"), module.Pitch);
        Assert.Equal([TrimPurpose.Tracking, TrimPurpose.Centre, TrimPurpose.HighEnd, TrimPurpose.Other], module.Trims.Select(t => t.Purpose));
        Assert.Equal([(1, 5), (3, 3), (8, 8), (0, 0)], module.Trims.Select(t => (t.Low, t.High)));
        Assert.Equal(3, module.Circuit.Length);
    }

    [Fact]
    public void A_module_may_be_its_data_sheet_alone()
    {
        Module module = Read("""
            module: bought
            panel: {width: 100 mm, height: 128.5 mm}
            data sheet:
              inputs: {pitch: 100k, fm: 47k}
              outputs: {saw: 1k}
              tracking: 3 cents
              current: {+12 V: 60 mA, -12 V: 50 mA}
            """);
        Assert.Empty(module.Circuit);
        Assert.Equal((100e3, 47e3, 1e3, 3.0), (module.Sheet!.Inputs["pitch"], module.Sheet.Inputs["fm"], module.Sheet.Outputs["saw"], module.Sheet.TrackingCents));
        Assert.Equal((0.06, 0.05), (module.Sheet.RailCurrents["+12 V"], module.Sheet.RailCurrents["-12 V"]));
    }

    [Theory]
    [InlineData("module: m\npanel: {width: 8 HP, height: 3 U}\n", "C070")]
    [InlineData("module: m\npanel: {width: 8 HP, height: 3 U}\ndata sheet: {tracking: 3 cents}\ntrims: []\n", "C078")]
    [InlineData("panel: {width: 8 HP, height: 3 U}\ndata sheet: {tracking: 3 cents}\n", "C022")]
    [InlineData("module: m\ndata sheet: {tracking: 3 cents}\n", "C022")]
    public void A_module_that_is_incomplete_says_what_is_missing(string text, string code) =>
        Assert.Equal([code], ModuleReader.Parse(text, "f").Errors.Select(e => e.Code));

    [Theory]
    [InlineData("{pich: on}", "there is no input jack 'pich'")]
    [InlineData("{pitch: onn}", "there is no output jack 'onn'")]
    public void A_module_that_passes_on_what_it_does_not_have_is_told(string passes, string words)
    {
        (Module? module, var errors) = ModuleReader.Parse($$"""
            module: through
            panel: {width: 8 HP, height: 3 U}
            passes: {{passes}}
            circuit:
              J1: {jack: input, label: pitch, tip: in}
              J2: {jack: output, label: on, tip: in}
              R1: {resistor: 100k, from: in, to: 0 V}
            """, "f");
        Assert.Null(module);
        InputError error = Assert.Single(errors);
        Assert.Equal("C079", error.Code);
        Assert.Contains(words, error.What, StringComparison.Ordinal);
        Assert.Contains("did you mean", error.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_free_part_that_is_none_is_told_with_what_may_stand_there()
    {
        (_, var errors) = ModuleReader.Parse(Pitch.ToyVoice.Oscillator("toy", "10k", "free: [R99, U1]"), "toy.yaml");
        Assert.Equal(["C095", "C095"], errors.Select(error => error.Code));
        Assert.Contains("R1", errors[0].Mend, StringComparison.Ordinal);
    }
}
