using System.Net;
using Consort.Workbench.Folder;
using Consort.Workbench.Frame;
using Consort.Workbench.Screens;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Consort.Workbench.Host;

/// <summary>The workbench of one folder, on this machine only.</summary>
public sealed class WorkbenchHost : IAsyncDisposable
{
    private const long LargestRequest = 8 << 20; // bytes; the largest text of a folder is 4 MB

    private readonly WebApplication program;

    private WorkbenchHost(WebApplication program, int port)
    {
        this.program = program;
        Address = $"http://127.0.0.1:{port}/";
    }

    /// <summary>Where it is to be seen.</summary>
    public string Address { get; }

    /// <summary>The open folder.</summary>
    public VoiceSession Session => program.Services.GetRequiredService<VoiceSession>();

    /// <summary>Opens a folder.</summary>
    /// <param name="folder">The voice's folder.</param>
    /// <param name="port">Where to listen; 0 for any port that is free.</param>
    /// <param name="engine">What computes; it ends with the workbench.</param>
    /// <param name="data">Where unsaved changes are kept; null for the user's own place.</param>
    /// <exception cref="IOException">The port is taken.</exception>
    public static async Task<WorkbenchHost> Open(string folder, int port, ILiveEngine engine, ClosedFolder? data = null, CancellationToken cancel = default)
    {
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new() { ApplicationName = typeof(WorkbenchHost).Assembly.GetName().Name });
        builder.WebHost.UseKestrelCore().ConfigureKestrel(options => Listen(options, port));
        builder.Services.AddRoutingCore();
        builder.Services.AddLogging(logging => logging.SetMinimumLevel(LogLevel.Warning));
        PortFound address = new();
        builder.Services.AddSingleton<IWorkbenchAddress>(address);
        builder.Services.AddSingleton(_ => engine); // so that it ends with the program
        builder.Services.AddSingleton(its => new VoiceSession(new ClosedFolder(folder), its.GetRequiredService<ILiveEngine>(), data ?? DataFolder.Find(), TimeProvider.System));
        builder.Services.AddScoped<Selection>();
        builder.Services.AddScoped<BuildProof>();
        foreach (ScreenEntry screen in ScreenList.All)
            screen.Add?.Invoke(builder.Services);
        builder.Services.AddDataProtection().UseEphemeralDataProtectionProvider(); // keys live as long as the program: nothing is left on disk
        builder.Services.AddRazorComponents(options => options.DetailedErrors = false)
            .AddInteractiveServerComponents(options => options.DetailedErrors = false)
            .AddHubOptions(options => options.MaximumReceiveMessageSize = LargestRequest); // a whole text comes in one message
        WebApplication program = builder.Build();
        Route(program);
        await program.StartAsync(cancel);
        address.Port = new Uri(program.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First()).Port;
        return new(program, address.Port);
    }

    /// <summary>Waits until it is told to stop.</summary>
    public async Task Wait(CancellationToken cancel)
    {
        try
        {
            await Task.Delay(Timeout.Infinite, cancel);
        }
        catch (OperationCanceledException)
        {
            // that is what it waited for
        }
    }

    private static void Listen(KestrelServerOptions options, int port)
    {
        options.AddServerHeader = false;
        options.Limits.MaxRequestBodySize = LargestRequest;
        options.Listen(IPAddress.Loopback, port, listen => listen.Protocols = HttpProtocols.Http1);
    }

    private static void Route(WebApplication program)
    {
        program.UseWebSockets();
        program.UseMiddleware<RequestGate>();
        // A page that is asked for and not there is told in the workbench's own words, beside the list of its screens.
        program.UseWhen(context => HttpMethods.IsGet(context.Request.Method), asked => asked.UseStatusCodePagesWithReExecute("/no-screen"));
        program.UseRouting();
        program.UseAntiforgery();
        OwnAssets.Map(program);
        FolderTexts.Map(program);
        foreach (ScreenEntry screen in ScreenList.All)
            screen.Map?.Invoke(program);
        program.MapRazorComponents<App>().AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        using CancellationTokenSource soon = new(TimeSpan.FromSeconds(0.5)); // open tabs hold their connection
        await program.StopAsync(soon.Token);
        await program.DisposeAsync();
    }

    private sealed class PortFound : IWorkbenchAddress
    {
        public int Port { get; set; }
    }
}
