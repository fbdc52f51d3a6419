using System.CommandLine;
using System.Net.Sockets;
using Consort.Engine.Design;
using Consort.Workbench.Host;
using Consort.Workbench.Session;

namespace Consort.Cli.Verbs;

/// <summary>open VOICE [--port N] [--json]: the workbench of a voice in a browser on this machine, until Ctrl-C.</summary>
internal sealed class OpenVerb(Screen screen) : IVerb
{
    public string Example => "consort open examples/quartet\nconsort open examples/quartet --port 8123";

    public Command Command()
    {
        Argument<string> folder = new("VOICE") { Description = "The voice's folder (it holds voice.yaml)." };
        Option<int> port = new("--port") { Description = "Listen here, on 127.0.0.1 only; 0 for any port that is free.", HelpName = "NUMBER" };
        Option<bool> json = new("--json") { Description = "Print the address as JSON (docs/json.md)." };
        Command command = new("open", "Show a voice in a browser on this machine, to be changed, proved and saved.") { folder, port, json };
        command.Validators.Add(result =>
        {
            if (result.GetValue(port) is < 0 or > 65535)
                result.AddError("--port: give a number from 0 to 65535");
        });
        command.SetAction((parsed, cancel) => Run(parsed.GetRequiredValue(folder), parsed.GetValue(port), parsed.GetValue(json), cancel));
        return command;
    }

    /// <summary>Opens the folder, prints where it is to be seen, waits. Mistakes in the folder are shown there.</summary>
    public async Task<int> Run(string folder, int port, bool json, CancellationToken cancel)
    {
        if (!File.Exists(Path.Combine(folder, DesignTexts.VoiceFile)))
        {
            screen.Complain(DesignFolder.Read(folder).Errors);
            return Exit.BadInput;
        }
        try
        {
            await using WorkbenchHost workbench = await WorkbenchHost.Open(folder, port, new LiveEngine(Environment.ProcessorCount), cancel: cancel);
            Print(workbench, json);
            await workbench.Wait(cancel);
            return Exit.Done;
        }
        catch (Exception e) when (e is IOException or SocketException)
        {
            screen.Complain($"consort open: port {port} cannot be had: {e.Message}\n  mend: name another port, or none");
            return Exit.BadInput;
        }
    }

    private void Print(WorkbenchHost workbench, bool json)
    {
        if (json)
            screen.Line(Engine.Documents.JsonText.Write(text => text.Text("shape", "consort workbench").Number("version", 1).Text("address", workbench.Address).Text("folder", workbench.Session.Folder)));
        else
            screen.Line($"{workbench.Address}\nOpen this in a browser on this machine. Ctrl-C stops it.");
        screen.Output.Flush();
    }
}
