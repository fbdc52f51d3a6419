using System.Collections.Immutable;
using Consort.Engine.Bench;
using Consort.Engine.Bench.Readings;
using Consort.Engine.Design;
using Xunit;

namespace Consort.Tests.Measuring.Readings;

public sealed class ReadingTableTests
{
    private static readonly PitchSpec Law = new("pitch", 1, 32.703, 0, "core", 2.5, true, "C1");

    private static (ReadingSet? Set, ImmutableArray<InputError> Errors) Read(string text, ReadingOptions? options = null, string name = "readings.csv")
    {
        string folder = Directory.CreateTempSubdirectory("consort-readings-").FullName;
        try
        {
            string file = Path.Combine(folder, name);
            File.WriteAllText(file, text);
            (ReadingSet? set, ImmutableArray<InputError> errors) = Sitting.Read(new("lead", "7"), Law, [file], options ?? new(), ["RV1", "RV2"]);
            return (set, [.. errors.Select(error => error with { At = error.At with { File = Path.GetFileName(error.At.File) }, What = error.What.Replace(folder.Replace('\\', '/') + "/", "", StringComparison.Ordinal) })]);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Trimmers_stand_at_a_position_or_so_many_turns_from_the_first_reading()
    {
        (ReadingSet? set, _) = Read("control voltage (V),frequency (Hz),RV1 (%),rv2 turned\n2,130.8,50,0\n1,65.4,,-1.25\n");
        UnitReading[] rounds = [.. set!.Readings.OrderBy(reading => reading.Place)];
        Assert.Equal([2, 1], rounds.Select(reading => reading.Control.Value)); // as they were written
        Assert.Equal(0.5, rounds[0].Stands["RV1"].Position);
        Assert.False(rounds[1].Stands.ContainsKey("RV1"));
        Assert.Equal(-1.25, rounds[1].Stands["RV2"].Turned);
    }

    [Fact]
    public void A_trimmer_past_its_ends_and_a_count_that_is_none_are_told_together()
    {
        (ReadingSet? set, ImmutableArray<InputError> errors) = Read("control voltage (V),frequency (Hz),RV1,RV2 turned\n1,65.4,1.5,twice\n");
        Assert.Null(set);
        Assert.Equal(["C015", "C015"], errors.Select(error => error.Code));
        (_, errors) = Read("control voltage (V),frequency (Hz),RV3 turned\n1,65.4,1\n");
        Assert.Equal("C021", Assert.Single(errors).Code);
        (_, errors) = Read("control voltage (V),frequency (Hz),RV1,RV1 turned\n1,65.4,0.5,1\n");
        Assert.Equal(ErrorCodes.RepeatedKey.Code, Assert.Single(errors).Code);
    }

    [Theory]
    [InlineData("control voltage (V),frequency (Hz),temperature (°C)\n1,65.4,23\n2,130.8,23.5\n")]
    [InlineData("control voltage;frequency;temperature\n1 V;65.4 Hz;23 °C\n2 V;0.1308 kHz;23.5 °C\n")]
    [InlineData("# bench 2\r\nTemperature [°C]\tFrequency [Hz]\tControl voltage [mV]\r\n23\t65.4\t1000\r\n\r\n23.5\t130.8\t2000")]
    [InlineData("\"control voltage (V)\",\"frequency (Hz)\",temperature (K)\n\"1\",\"65.4\",296.15\n2,130.8 Hz,296.65\n")]
    public void Units_stand_in_the_head_or_in_the_cells(string text)
    {
        (ReadingSet? set, ImmutableArray<InputError> errors) = Read(text);
        Assert.Empty(errors);
        Assert.Equal([1, 2], set!.Readings.Select(reading => reading.Control.Value));
        Assert.Equal([65.4, 130.8], set.Readings.Select(reading => reading.Frequency.Value));
        Assert.Equal([296.15, 296.65], set.Readings.Select(reading => reading.Kelvin!.Value));
    }

    [Fact]
    public void A_number_is_as_sure_as_its_last_digit()
    {
        // JCGM 100:2008, F.2.2.1: a step of 0.1 leaves 0.1/√12, here of 65.4 Hz and, in kHz, of 130.8 Hz.
        (ReadingSet? set, _) = Read("control voltage (V),frequency\n1,65.4 Hz\n2,0.1308 kHz\n3,262 Hz\n4,5.2325e2 Hz\n");
        Assert.Equal([0.1, 0.1, 1, 0.01], set!.Readings.Select(reading => Math.Round(reading.Uncertainty * Math.Sqrt(12), 9)));
        Assert.Equal(1200 / Math.Log(2) * 0.1 / Math.Sqrt(12) / 65.4, set.Readings[0].UncertaintyCents(1), 1e-9);
    }

    [Fact]
    public void A_tuners_key_and_cents_are_a_frequency()
    {
        // A4 is 440 Hz (ISO 16:1975); a cent is 2^(1/1200), 1.00057778950655.
        (ReadingSet? set, ImmutableArray<InputError> errors) = Read("control voltage (V),note,cents\n3.75,A4,+1\n3,C4,-0.5\n1,Bb1,12.0 cents\n");
        Assert.Empty(errors);
        Assert.Equal([58.68, 261.55, 440.254], set!.Readings.Select(reading => Math.Round(reading.Frequency.Value, 3 - (int)(reading.Frequency.Value < 300 ? 1 : 0))));
        Assert.Equal(1 / Math.Sqrt(12), set.Readings[2].UncertaintyCents(1), 1e-9);
        Assert.Equal("C024", Assert.Single(Read("control voltage (V),note,cents\n3.75,H4,+1\n").Errors).Code);
    }

    [Fact]
    public void Control_voltages_that_may_be_off_count_as_pitch()
    {
        // 1 mV is 1.2 cents (definition of 1 V/octave); ±1 mV evenly likely has a deviation of 1/√3 mV.
        (ReadingSet? set, _) = Read("control voltage (V),frequency (Hz),uncertainty (Hz)\n1,65.406,0\n", new() { ControlWithin = 1e-3 });
        Assert.Equal(1.2 / Math.Sqrt(3), set!.Readings[0].UncertaintyCents(1), 1e-9);
        (set, _) = Read("control voltage (V),frequency (Hz),uncertainty (Hz),control within (mV)\n1,65.406,0,2\n", new() { ControlWithin = 1e-3 });
        Assert.Equal(2.4 / Math.Sqrt(3), set!.Readings[0].UncertaintyCents(1), 1e-9);
    }

    [Fact]
    public void Every_mistake_of_a_table_is_told_in_one_run_with_its_place()
    {
        (ReadingSet? set, ImmutableArray<InputError> errors) = Read(
            """
            control voltage (V),frequency (Hz),temperature (°C)
            1,65,4,23
            2 A,130.8,23
            3,,23
            4,-523,23
            5,1046.5 Hz,2300
            6,2.1 kΩ
            "7,4186
            """
        );
        Assert.Null(set);
        Golden.Same("bench/table-errors.txt", string.Join('\n', errors.Select(error => error.Render())) + "\n");
    }

    [Theory]
    [InlineData("control voltage (V),frequncy (Hz)\n1,2\n", "C021")]
    [InlineData("control voltage (V),frequency (Ω)\n1,2\n", "C014")]
    [InlineData("frequency (Hz),frequency (Hz)\n1,2\n", "C004")]
    [InlineData("control voltage (V)\n1\n", "C305")]
    [InlineData("frequency (Hz)\n1\n", "C305")]
    [InlineData("control voltage (V),frequency (Hz)\n", "C306")]
    [InlineData("", "C306")]
    public void A_table_that_says_too_little_is_told(string text, string code) =>
        Assert.Equal(code, Assert.Single(Read(text).Errors).Code);

    [Fact]
    public void A_file_that_is_neither_table_nor_recording_is_told()
    {
        Assert.Equal("C308", Assert.Single(Read("1,2", name: "readings.pdf").Errors).Code);
        Assert.Equal("C300", Assert.Single(Read("RIFF, but no more", name: "note.wav").Errors).Code);
    }
}
