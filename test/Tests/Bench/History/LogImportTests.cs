using System.Collections.Immutable;
using Consort.Engine.Bench.History;
using Consort.Engine.Design;
using Consort.Engine.Documents.Bench;
using Xunit;

namespace Consort.Tests.Measuring.History;

public sealed class LogImportTests
{
    [Theory]
    [InlineData("history.json")]
    [InlineData("history.csv")]
    public void What_is_exported_comes_back_to_the_bit_and_twice_is_once(string name)
    {
        using Entries at = new();
        File.WriteAllText(at.File(name), name.EndsWith(".csv", StringComparison.Ordinal) ? LogCsv.Write(Entries.Every()) : LogJson.Write(Entries.Every()));
        (ImmutableArray<LogEntry> entries, ImmutableArray<InputError> errors) = LogImport.Read(at.File(name));
        Assert.Empty(errors);
        Assert.Equal(Entries.Words(Entries.Every()), Entries.Words(entries));
        Assert.Empty(LogImport.New(entries, Entries.Every()));
        Assert.Equal(Entries.Every().Length, LogImport.New(entries.Concat(entries), []).Length);
    }

    [Fact]
    public void Every_mistake_is_told_with_its_place()
    {
        using Entries at = new();
        File.WriteAllText(at.File("bad.json"),
            """
            {"entries": [
              {"module": "lead", "serial": "0 7", "time": "2026-03-01", "kind": "note", "text": "a"},
              {"module": "lead", "serial": "07", "time": "yesterday", "kind": "nota", "text": "a"},
              {"module": "lead", "serial": "07", "time": "2026-03-01", "kind": "readings", "lawHertz": 0, "lawVolts": 0, "lawVoltsPerOctave": 1,
               "clockRatio": 1, "clockUncertainty": 0, "clockCalibrated": true, "readings": [{"controlVolts": "x", "controlUncertaintyVolts": 0, "hertz": 1}]}
            ]}
            """);
        (ImmutableArray<LogEntry> entries, ImmutableArray<InputError> errors) = LogImport.Read(at.File("bad.json"));
        Assert.Empty(entries);
        Assert.All(errors, error => Assert.Equal(ErrorCodes.LogEntry.Code, error.Code));
        Assert.Equal([(2, 32), (3, 46), (3, 67), (4, 92), (5, 0), (5, 0)], errors.Select(error => (error.At.Line, error.At.Line == 5 ? 0 : error.At.Column)));
    }

    [Fact]
    public void A_table_with_a_strange_column_is_told()
    {
        using Entries at = new();
        File.WriteAllText(at.File("bad.csv"), "module,serial,time,kind,texts\nlead,07,2026-03-01,note,a\n");
        Assert.Contains("did you mean 'text'?", LogImport.Read(at.File("bad.csv")).Errors[0].Mend, StringComparison.Ordinal);
    }
}
