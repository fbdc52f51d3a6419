using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using Consort.Cli.Printing;
using Consort.Engine.Design;
using Consort.Engine.Documents.Parts;
using Consort.Engine.Orders;

namespace Consort.Cli.Verbs;

/// <summary>parts VOICE [--units N] [--kit] [--to-buy] [--json] [--csv FILE] [--xlsx FILE]: what so many voices are built from.</summary>
internal sealed class PartsVerb(Screen screen) : IVerb
{
    /// <summary>What was asked on the command line.</summary>
    internal sealed record Request(string Folder, int Units = 1, bool Kit = false, bool ToBuy = false, bool Json = false, string? Csv = null, string? Book = null);

    public string Example => "consort parts examples/quartet --units 10 --xlsx quartet.xlsx";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<int> units = new("--units") { Description = "How many of the voice are built.", HelpName = "N", DefaultValueFactory = _ => 1, CustomParser = Units };
        Option<bool> kit = new("--kit") { Description = "Also print the packing list of a kit, by bag and build step." };
        Option<bool> toBuy = new("--to-buy") { Description = "Print only the lines of which something has to be bought." };
        Option<bool> json = new("--json") { Description = "Print the whole order as JSON (docs/json.md) instead of tables." };
        Option<string?> csv = new("--csv") { Description = "Also write the lines to this file.", HelpName = "FILE.csv" };
        Option<string?> book = new("--xlsx") { Description = "Also write lines, what is missing, costs and kit to this workbook.", HelpName = "FILE.xlsx" };
        Command command = new("parts", "List the parts of so many voices: need, spares, shelf, what to buy, cost, kit.") { folder, units, kit, toBuy, json, csv, book };
        command.SetAction(parsed => Run(new(
            parsed.GetRequiredValue(folder),
            parsed.GetValue(units),
            parsed.GetValue(kit),
            parsed.GetValue(toBuy),
            parsed.GetValue(json),
            parsed.GetValue(csv),
            parsed.GetValue(book)
        )));
        return command;
    }

    private static int Units(ArgumentResult result)
    {
        if (!int.TryParse(result.Tokens[0].Value, out int units) || units is < 1 or > 100_000)
            result.AddError("--units takes a whole number from 1 to 100000");
        return units;
    }

    /// <summary>Reads, lists, writes the files, prints.</summary>
    public int Run(Request request)
    {
        (Voice? voice, Stock? stock, ImmutableArray<InputError> errors) = DesignFolder.Read(request.Folder);
        screen.Complain(errors);
        if (voice is null || stock is null)
            return Exit.BadInput;
        PartsOrder order = new PartsLister(voice, stock, VoiceFolder.Library(request.Folder)).List(request.Units);
        if (request.Csv is { } csv && !screen.Wrote(csv, () => WholeFile.Write(csv, PartsCsv.Write(PartsSheet.Lines(order)))))
            return Exit.BadInput;
        if (request.Book is { } book && !screen.Wrote(book, () => WholeFile.Write(book, PartsBook.Write(order))))
            return Exit.BadInput;
        if (request.Json)
            screen.Line(PartsJson.Write(order));
        else
            PartsTables.Print(screen, order, request.Kit, request.ToBuy);
        return Exit.Done;
    }
}
