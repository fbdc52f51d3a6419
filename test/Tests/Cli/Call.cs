using Consort.Cli;

namespace Consort.Tests.Cli;

/// <summary>One call of the command line, with what it wrote and its exit code.</summary>
internal sealed record Call(int Code, string Output, string Error)
{
    /// <summary>Calls as another program would: no terminal, 100 columns.</summary>
    public static async Task<Call> Of(params string[] arguments)
    {
        (Screen screen, StringWriter output, StringWriter error) = Paper();
        int code = await CommandLine.Run(arguments, screen);
        return new(code, output.ToString(), error.ToString());
    }

    /// <summary>A screen that writes into strings.</summary>
    public static (Screen Screen, StringWriter Output, StringWriter Error) Paper()
    {
        StringWriter output = new(), error = new();
        return (new(output, error, Screen.PlainWidth, IsColoured: false, ShowsProgress: false), output, error);
    }

    /// <summary>All of it, as a golden file holds it.</summary>
    public override string ToString() => $"exit {Code}\n--- output\n{Output}--- error\n{Error}";
}
