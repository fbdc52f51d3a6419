using System.CommandLine;
using Consort.Engine.Design.Schema;

namespace Consort.Cli.Verbs;

/// <summary>schema NAME: print the JSON Schema of one kind of design file, for an editor.</summary>
internal sealed class SchemaVerb(Screen screen) : IVerb
{
    public string Example => "consort schema voice > voice.schema.json";

    public Command Command()
    {
        Argument<string> name = new("NAME") { Description = $"One of {Known}." };
        Command command = new("schema", "Print the JSON Schema of one kind of design file, for completion in an editor.") { name };
        command.SetAction(parsed => Run(parsed.GetRequiredValue(name)));
        return command;
    }

    /// <summary>Prints it.</summary>
    public int Run(string name)
    {
        if (DesignSchema.Find(name) is not { } schema)
        {
            screen.Complain($"consort schema: there is no schema '{name}'\n  mend: one of {Known}");
            return Exit.BadInput;
        }
        screen.Output.Write(schema.Text);
        return Exit.Done;
    }

    private static string Known => string.Join(", ", DesignSchema.All.Select(schema => schema.Word));
}
