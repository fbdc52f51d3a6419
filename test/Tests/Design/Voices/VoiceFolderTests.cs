using System.Collections.Immutable;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Design.Voices;

public sealed class VoiceFolderTests
{
    [Fact]
    public void A_sound_folder_reads_without_a_word()
    {
        using Folder folder = new();
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = folder.Read();
        Assert.Empty(errors.Select(error => error.Render()));
        Assert.NotNull(voice);
        Assert.Equal(["lead", "second", "mixer", "blender"], voice.Members.Select(member => member.Name));
        Assert.Equal(0.25, voice.Members[0].Set["P1"]);
        Assert.Equal(5, voice.Members[1].StandsCents);
        Assert.Equal(new("split", "1"), voice.Cords[1].From);
        Assert.Equal((0.6, 0.6), (voice.Cords[0].Length, voice.Cords[1].Length));
        Assert.Equal((288.15, 308.15, 2), (voice.Limits.ColdKelvin, voice.Limits.WarmKelvin, voice.Limits.Followers));
        Assert.Equal(0.015, voice.Supply.SlotResistance);
        Assert.Equal(4, stock!.Items.Length);
        Assert.Equal(("E96", 0.12), (stock.Items[0].Series, stock.Items[0].Price));
        Assert.Equal(1e-9, stock.Items[1].Value);
    }

    [Fact]
    public void A_voice_that_asks_for_no_number_of_followers_asks_for_those_on_its_ribbon()
    {
        using Folder folder = new();
        Assert.Equal(1, folder.With("voice.yaml", ", followers: 2", "").Read().Voice!.Limits.Followers);
    }

    [Fact]
    public void A_file_that_holds_only_a_plan_needs_no_modules_and_says_for_whom_each_wish_is()
    {
        using Folder folder = new();
        string voice = folder["voice.yaml"];
        string head = voice[..voice.IndexOf("modules:", StringComparison.Ordinal)];
        folder.With("voice.yaml", voice, head + """
            plan:
              oscillators: {low: -1200 cents, high: +5 cents}
              wishes: [{player: keyboard, to: pitch}, {player: keyboard, to: fm, only: [high]}]
              case: {row: 84 HP, rows: 2, depth: 60 mm, pins: 2, pin rating: 1 A}
            players:
              keyboard: {plays: pitch}

            """);
        (Voice? read, _, ImmutableArray<InputError> errors) = folder.Read();
        Assert.Empty(errors.Select(error => error.Render()));
        Assert.Empty(read!.Members);
        Assert.Equal([("low", -1200), ("high", 5)], read.Plan!.Oscillators.Select(one => (one.Name, one.StandsCents)));
        Assert.Equal(["low high", "high"], read.Plan.Wishes.Select(wish => string.Join(' ', wish.Oscillators)));
        Assert.Equal(new RackCase(0.42672, 2, 0.06, 2, 1), read.Plan.Case with { Row = Math.Round(read.Plan.Case.Row, 12) }); // IEC 60297-3-101: 84 HP
    }

    [Fact]
    public void A_folder_without_stock_has_an_empty_shelf()
    {
        using Folder folder = new();
        (Voice? voice, Stock? stock, _) = folder.Without("stock.yaml").Read();
        Assert.NotNull(voice);
        Assert.Empty(stock!.Items);
    }

    [Theory]
    // file, what stands there, what is written instead, the code, and words that the message must hold
    [InlineData("voice.yaml", "from: wheel/out", "from: weel/out", "C100", "did you mean 'wheel'?")]
    [InlineData("voice.yaml", "to: lead/pitch", "to: lead/pich", "C101", "did you mean 'pitch'?")]
    [InlineData("voice.yaml", "to: [second/link]", "to: [second/lnk]", "C102", "did you mean 'link'?")]
    [InlineData("voice.yaml", "to: lead/pitch", "to: lead", "C103", "OWNER/LABEL")]
    [InlineData("voice.yaml", "  wheel: {plays", "  mixer: {plays", "C104", "taken already, in line 12")]
    [InlineData("voice.yaml", "  split: {multiple", "  a/b: {multiple", "C105", "slash")]
    [InlineData("voice.yaml", "from: split/1, to: lead/pitch", "from: keyboard/out, to: lead/pitch", "C106", "multiple")]
    [InlineData("voice.yaml", "from: wheel/out, to: mixer/in", "from: wheel/out, to: lead/pitch", "C107", "line 22")]
    [InlineData("voice.yaml", "from: wheel/out, to: mixer/in", "from: wheel/out, to: split/2", "C107", "two sources: wheel/out and keyboard/out")]
    [InlineData("voice.yaml", "from: wheel/out, to: mixer/in", "from: wheel/out, to: mixer/out", "C108", "both outputs")]
    [InlineData("voice.yaml", "from: wheel/out, to: mixer/in", "from: mixer/in 2, to: mixer/in", "C109", "nothing drives mixer/in 2")]
    [InlineData("voice.yaml", "  - {from: split/1, to: lead/pitch}\n", "", "C110", "lead: nothing is plugged into 'pitch'")]
    [InlineData("voice.yaml", "from: wheel/out, to: mixer/in", "from: split/2, to: split/3", "C111", "closes a loop")]
    [InlineData("voice.yaml", "from: wheel/out, to: mixer/in", "from: buffers/2, to: mixer/in", "C112", "mixer/out to buffers/in")]
    [InlineData("voice.yaml", "from: lead/link, to: [second/link]", "from: second/link, to: [lead/link]", "C113", "role follower")]
    [InlineData("voice.yaml", "from: lead/link, to: [second/link]", "from: second/link, to: [lead/link]", "C114", "role lead")]
    [InlineData("modules/follower.yaml", "pins: [pitch, pitch return, sync, link return]", "pins: [sync, pitch return, pitch, link return]", "C115", "pin 1 is 'pitch' at lead/link and 'sync' at second/link")]
    [InlineData("modules/follower.yaml", "pins: [pitch, pitch return, sync, link return]", "pins: [pitch, pitch return, sync]", "C115", "4 pins")]
    [InlineData("modules/follower.yaml", "pins: [pitch, pitch return, sync, link return]", "pins: [pitch, +12 V, sync, link return]", "C115", "pin 2 is '0 V' at lead/link and '+12 V'")]
    [InlineData("voice.yaml", "to: [second/link]", "to: [second/link, second/link]", "C116", "has a ribbon already")]
    [InlineData("voice.yaml", "ribbons:\n  - {from: lead/link, to: [second/link], length: 12 cm, gauge: 28}\n", "", "C118", "no ribbon feeds it")]
    [InlineData("modules/lead.yaml", "rails: [+12 V, 0 V, -12 V]", "rails: [+12 V, 0 V, -12 V, +15 V]", "C119", "no rail '+15 V'")]
    [InlineData("voice.yaml", "  slot resistance", "    +5 V: {voltage: 5 V, limit: 1 A}\n  slot resistance", "C120", "no module uses")]
    [InlineData("modules/follower.yaml", "rails: [+12 V, 0 V, -12 V]", "rails: [+12 V, 0 V]", "C121", "parts hang on '-12 V'")]
    [InlineData("voice.yaml", "set: {P1: 25%", "set: {P9: 25%", "C123", "did you mean 'P1'?")]
    [InlineData("voice.yaml", "set: {P1: 25%", "set: {R1: 25%", "C124", "can be moved: P1, SW1")]
    [InlineData("voice.yaml", "SW1: 2", "SW1: 3", "C015", "from 1 to 2")]
    [InlineData("voice.yaml", "P1: 25%", "P1: 125%", "C015", "0% to 100%")]
    [InlineData("voice.yaml", "module: follower", "module: folower", "C125", "did you mean 'follower'?")]
    [InlineData("voice.yaml", "plays: pitch", "plays: fixed", "C128", "plays: pitch")]
    [InlineData("voice.yaml", "voltage: -12 V", "voltage: 12 V", "C129", "buffers")]
    [InlineData("voice.yaml", "length: 60 cm", "length: 60", "C013", "add the unit")]
    [InlineData("voice.yaml", "length: 60 cm", "length: 60 V", "C014", "a voltage, not a length")]
    [InlineData("voice.yaml", "ways: 3", "ways: 2.5", "C015", "whole number")]
    [InlineData("voice.yaml", "gauge: 28", "gage: 28", "C021", "did you mean 'gauge'?")]
    [InlineData("voice.yaml", "plays: fixed, resistance: 1k, at: 0 V", "plays: fixed, resistance: 1k", "C022", "at: 0 V")]
    [InlineData("voice.yaml", "multiple: passive", "multiple: pasive", "C024", "did you mean 'passive'?")]
    [InlineData("stock.yaml", "resistor: E96", "resitor: E96", "C140", "did you mean 'resistor'?")]
    [InlineData("stock.yaml", "resistor: E96", "resistor: E97", "C141", "did you mean 'E96'?")]
    [InlineData("stock.yaml", "source: our shelf", "measured: []", "C142", "lists nothing")]
    [InlineData("stock.yaml", "source: our shelf", "measured: [0.1%], spread: normal", "C142", "leave one of them out")]
    [InlineData("stock.yaml", "source: our shelf", "measured: [0.1 V]", "C014", "a voltage")]
    [InlineData("stock.yaml", "source: our shelf", "spread: bell", "C024", "one of: uniform, normal")]
    [InlineData("stock.yaml", "source: our shelf", "reel: 120%", "C015", "reel cannot be")]
    [InlineData("stock.yaml", "tolerance: 0.1%", "tolerance: 0.1 V", "C014", "a voltage")]
    [InlineData("voice.yaml", "players:\n", "plan:\n  oscillators: {a: 0 cents}\n  wishes: [{player: keybord, to: pitch}]\nplayers:\n", "C100", "did you mean 'keyboard'?")]
    [InlineData("voice.yaml", "players:\n", "plan:\n  oscillators: {a: 0 cents}\n  wishes: [{player: keyboard, to: pitch, only: [b]}]\nplayers:\n", "C100", "no oscillator of the plan is named 'b'")]
    [InlineData("voice.yaml", "players:\n", "plan: {oscillators: {wheel: 0 cents}}\nplayers:\n", "C104", "taken already")]
    [InlineData("voice.yaml", "players:\n", "plan: {case: {row: 84 HP, rows: 1.5}}\nplayers:\n", "C015", "whole number")]
    public void A_mistake_is_told_with_its_code_and_a_mend(string file, string old, string text, string code, string words)
    {
        using Folder folder = new();
        ImmutableArray<InputError> errors = folder.With(file, old, text).Read().Errors;
        string[] told = [.. errors.Where(error => error.Code == code).Select(error => error.Render())];
        Assert.True(told.Length > 0, string.Join('\n', errors.Select(error => error.Render())));
        Assert.Contains(words, string.Join('\n', told), StringComparison.Ordinal);
        Assert.All(errors, error => Assert.True(error.At.Line > 0 && error.SourceLine.Length > 0, error.Render()));
    }

    [Fact]
    public void Ribbons_in_a_ring_are_told()
    {
        using Folder folder = new();
        folder.With("modules/follower.yaml", "  R1:", "  H2: {header: onward, role: through, pins: [pitch, pitch return, sync, link return]}\n  R1:");
        folder.With("modules/lead.yaml", "  R1:", "  H2: {header: back, role: follower, pins: [pitch, pitch return, sync, link return]}\n  R9: {resistor: 1k, from: pitch return, to: link return}\n  R8: {resistor: 1k, from: pitch return, to: sync}\n  R1:");
        folder.With("voice.yaml", "gauge: 28}\n", "gauge: 28}\n  - {from: second/onward, to: [lead/back]}\n");
        Assert.Contains(folder.Read().Errors, error => error.Code == "C117");
    }

    [Fact]
    public void A_module_whose_zero_volt_joins_nothing_is_told()
    {
        using Folder folder = new();
        folder.With("modules/mixer.yaml", "  current: {+12 V: 10 mA, -12 V: 10 mA}\n", "");
        ImmutableArray<InputError> errors = folder.Read().Errors;
        // The mixer hangs on cords, whose screens join it; the blender has none.
        Assert.Equal("C122", Assert.Single(errors, error => !error.IsNote).Code);
        Assert.Contains("blender", errors.Single(error => !error.IsNote).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Notes_leave_the_voice_standing()
    {
        using Folder folder = new();
        folder.With("voice.yaml", "  blender: {module: mixer}\n", "").With("voice.yaml", "  mixer: {module: mixer}\n", "");
        folder.With("voice.yaml", "  - {from: wheel/out, to: mixer/in}\n  - {from: mixer/out, to: buffers/in}\n", "");
        folder.With("voice.yaml", "  - {from: buffers/1, to: lead/fm}\n", "");
        (Voice? voice, _, ImmutableArray<InputError> errors) = folder.Read();
        Assert.True(voice is not null, string.Join('\n', errors.Select(error => error.Render())));
        Assert.Equal(["C126", "C127", "C127"], errors.Select(error => error.Code).Order(StringComparer.Ordinal));
        Assert.All(errors, error => Assert.Contains(": note C", error.Render(), StringComparison.Ordinal));
    }

    [Fact]
    public void A_free_pitch_jack_with_a_normal_is_a_note()
    {
        using Folder folder = new();
        folder.With("modules/lead.yaml", "label: pitch, tip: pitch", "label: pitch, tip: pitch, normal: 0 V");
        folder.With("voice.yaml", "  - {from: split/1, to: lead/pitch}\n", "");
        (Voice? voice, _, ImmutableArray<InputError> errors) = folder.Read();
        Assert.True(voice is not null, string.Join('\n', errors.Select(error => error.Render())));
        Assert.True(Assert.Single(errors, error => error.Code == "C110").IsNote);
    }

    [Fact]
    public void All_mistakes_of_all_files_come_in_one_run_by_file_and_line()
    {
        using Folder folder = new();
        folder.With("voice.yaml", "to: lead/pitch", "to: lead/pich").With("voice.yaml", "length: 60 cm", "length: 60");
        folder.With("stock.yaml", "resistor: E96", "resistor: E97").With("modules/lead.yaml", "width: 20 HP", "width: 20");
        InputError[] errors = [.. folder.Read().Errors];
        Assert.Contains("C141", errors.Select(error => error.Code));
        Assert.Contains("C013", errors.Where(error => error.At.File == "modules/lead.yaml").Select(error => error.Code));
        Assert.Contains("C013", errors.Where(error => error.At.File == "voice.yaml").Select(error => error.Code));
        IEnumerable<(string File, int Line, int Column)> places = errors.Select(error => (error.At.File, error.At.Line, error.At.Column));
        Assert.Equal(places.OrderBy(p => p.File, StringComparer.Ordinal).ThenBy(p => p.Line).ThenBy(p => p.Column), places);
    }

    [Fact]
    public void A_module_that_cannot_be_read_brings_no_further_complaints_about_its_jacks()
    {
        using Folder folder = new();
        folder.With("modules/lead.yaml", "width: 20 HP", "width: 20");
        Assert.Equal("C013", Assert.Single(folder.Read().Errors).Code);
    }

    [Fact]
    public void A_folder_that_is_not_there_is_one_error() =>
        Assert.Equal("C002", Assert.Single(VoiceFolder.Read("/nowhere/at all").Errors).Code);
}
