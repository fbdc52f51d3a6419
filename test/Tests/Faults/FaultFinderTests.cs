using System.Collections.Immutable;
using System.Text.Json;
using Consort.Engine.Bench;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;
using Consort.Engine.Faults;
using Consort.Tests.Cli;
using Consort.Tests.Invented;
using Consort.Tests.Pitch;
using Xunit;

namespace Consort.Tests.Faults;

public sealed class FaultFinderTests
{
    private static readonly Voice Toy = ToyVoice.OnMultiple(1, ToyVoice.Oscillator("toy", "100k"));
    private static readonly Lazy<FaultBook> Book = new(() => FaultBook.Write(Toy, Toy.Members[0], Stock.Empty, 1)!);

    private static FaultEntry Entry(string words) => Book.Value.Entries.First(entry => entry.Fault.Words == words);

    private static FigureReading[] Of(FaultEntry? entry) =>
        [.. (entry is null ? Book.Value.Sound : Book.Value.Foretold(entry)).Mean.Select((value, i) => new FigureReading(i, value)).Where(reading => double.IsFinite(reading.Value))];

    [Fact]
    public void A_timing_capacitor_of_a_tenth_of_its_value_is_first_among_explanations()
    {
        FaultEntry tenth = Entry("C1 is 10 nF instead of 100 nF");
        Diagnosis found = new FaultFinder(Book.Value).Find(Of(tenth));
        Assert.False(found.IsSound);
        Assert.Equal("C1 is 10 nF instead of 100 nF", found.Ranked[0].Fault.Words);
        // A tenth of the capacitor is ten times the frequency: 3.32 octaves. (Ten times of it would not empty through the switch.)
        int pitch = Enumerable.Range(0, Book.Value.Figures.Count).First(i => Book.Value.Figures[i].Kind == FigureKind.Pitch);
        Assert.Equal(Math.Log2(10), tenth.Moved[pitch], 0.02);
    }

    [Fact]
    public void Figures_of_a_sound_unit_are_no_fault_and_weights_of_a_faulty_one_sum_to_no_more_than_one()
    {
        FaultFinder finder = new(Book.Value);
        Assert.True(finder.Find(Of(null)).IsSound);
        Assert.InRange(finder.Find(Of(Entry("C1 is shorted"))).Ranked.Sum(one => one.Weight), 0.5, 1 + 1e-9);
    }

    [Fact]
    public void One_reading_of_a_clip_that_slipped_is_not_taken_for_a_fault_that_moves_all()
    {
        FigureReading[] readings = Of(null);
        int swing = Array.FindIndex(readings, reading => Book.Value.Figures[reading.Figure] is { Kind: FigureKind.Swing, Place: "core" });
        readings[swing] = readings[swing] with { Value = 0 };
        Diagnosis found = new FaultFinder(Book.Value).Find(readings);
        Assert.DoesNotContain(found.Ranked.Take(1), one => one.Fault.Words == "C1 is shorted");
    }

    [Fact]
    public void Blind_faults_of_a_toy_are_found_and_its_sound_units_are_left_alone()
    {
        FaultTrials trials = new(Book.Value, Toy.Members[0].Module);
        trials.Run(20, 20, 5, grows: false);
        string row = string.Join(" | ", FaultTallies.Row("toy", trials));
        // Twenty trials: at the 70 % and 90 % that are asked of hundreds, as few as ten and fifteen come by chance in one of twenty.
        Assert.True(trials.Seen.Count(one => one.Full[0].Alike == 1) >= 10, row);
        Assert.True(trials.Seen.Count(one => one.Full[0].Alike is 1 or 2 or 3) >= 15, row);
        Assert.True(trials.SoundClaimed.Count <= 1, row);
    }

    [Fact]
    public void Every_kind_of_fault_that_a_part_may_have_comes_from_its_own_circuit()
    {
        (Voice? voice, _, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", "quartet"));
        ImmutableArray<Fault> faults = FaultList.Of(voice!.Members[1].Module);
        Assert.Equal(Enum.GetValues<FaultKind>(), faults.Select(fault => fault.Kind).Distinct().Order());
        string[] words = [.. faults.Select(fault => fault.Words)];
        Assert.Contains("R2 is 10 kΩ instead of 100 kΩ", words);
        Assert.Contains("H1 has no contact at 'pitch bus'", words);
        Assert.Equal(words.Length, words.Distinct().Count());
    }

    [Fact]
    public void A_table_of_figures_tells_all_its_mistakes_at_once()
    {
        ErrorList errors = new();
        SourceText source = SourceText.Of("what,place,reading\nmean,coer,1 V\nswing,core,1 A\nmeen,core,1 V\nfrequency,1 V,-3 Hz\nmean,core\n", "figures.csv");
        Assert.Empty(FigureTable.Read(source, Book.Value.Figures, errors));
        Assert.Equal(["C340", "C014", "C024", "C015", "C305"], errors.InOrder().Select(error => error.Code));
        Assert.Contains("did you mean 'core'?", errors.InOrder()[0].Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_on_json_names_all_that_a_diagnosis_holds()
    {
        FigureReading[] some = [.. Of(Entry("C1 is shorted")).Where(reading => Book.Value.Figures[reading.Figure].Kind != FigureKind.Mean)];
        UnitDiagnosis found = new(UnitPlace.Find(Toy, "toy/0001", null).Place!, Book.Value, [.. some], new FaultFinder(Book.Value).Find(some));
        JsonElement written = JsonDocument.Parse(DiagnosisJson.Write("toy", found)).RootElement;
        JsonPage.Names(written);
        Assert.NotEmpty(written.GetProperty("explanations").EnumerateArray());
        Assert.NotEmpty(written.GetProperty("next").EnumerateArray());
    }

    [Theory]
    [Trait("Runs", "Long")]
    [InlineData("pair", "pair-lead", 125)]
    [InlineData("pair", "pair-follower", 125)]
    [InlineData("quartet", "quartet-lead", 125)]
    [InlineData("quartet", "quartet-follower", 125)]
    public void The_true_cause_of_blind_faults_comes_first_or_near_it_and_sound_units_have_none(string example, string name, int count)
    {
        (Voice? voice, Stock? stock, _) = VoiceFolder.Read(Path.Combine(Golden.Root, "examples", example));
        Member member = voice!.Members.First(one => UnitPlace.ModuleOf(one) == name);
        FaultTrials trials = new(FaultBook.Write(voice, member, stock!, 1, cancel: TestContext.Current.CancellationToken)!, member.Module);
        trials.Run(count, 60, 77, grows: false);
        string row = string.Join(" | ", FaultTallies.Row(name, trials));
        Console.WriteLine(row);
        Assert.True(trials.SoundClaimed.Count <= 0.05 * trials.Sound, row);
        Assert.True(trials.Seen.Count(one => one.Full[0].Own == 1) >= 0.7 * count, row);
        Assert.True(trials.Seen.Count(one => one.Full[0].Own is 1 or 2 or 3) >= 0.9 * count, row);
    }
}
