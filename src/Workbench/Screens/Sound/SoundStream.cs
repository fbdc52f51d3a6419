using System.Globalization;
using System.Net.WebSockets;
using System.Runtime.InteropServices;
using System.Text;
using Consort.Engine.Sound.Live;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Consort.Workbench.Screens.Sound;

/// <summary>
/// A line's samples for the browser, as it asks for them: <c>ask 512</c> is answered by so many pairs of 32-bit floats, left and
/// right in turn, at 48 kHz; <c>on 57</c> and <c>off 57</c> press and release MIDI keys, <c>none</c> releases all. Samples that
/// were cut at full scale are told as <c>overs 12</c>.
/// </summary>
internal static class SoundStream
{
    private const int MostFrames = 4096;
    private const int MostKey = 127;

    public static void Add(IServiceCollection services) => services.AddSingleton<SoundDesk>();

    public static void Map(IEndpointRouteBuilder routes) => routes.Map("/sound/stream", Serve);

    private static async Task Serve(HttpContext context, SoundDesk desk)
    {
        if (!context.WebSockets.IsWebSocketRequest || desk.Find(context.Request.Query["line"]) is not { } line || !line.Begin())
        {
            context.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        try
        {
            using WebSocket socket = await context.WebSockets.AcceptWebSocketAsync();
            await Talk(socket, line, context.RequestAborted);
        }
        catch (Exception e) when (e is WebSocketException or OperationCanceledException)
        {
            // the tab is gone
        }
        finally
        {
            line.End();
        }
    }

    private static async Task Talk(WebSocket socket, SoundLine line, CancellationToken cancel)
    {
        byte[] heard = new byte[64];
        float[] samples = new float[2 * MostFrames];
        byte[] bytes = new byte[sizeof(float) * samples.Length];
        while (true)
        {
            WebSocketReceiveResult got = await socket.ReceiveAsync(heard, cancel);
            if (got.MessageType == WebSocketMessageType.Close)
            {
                await socket.CloseOutputAsync(WebSocketCloseStatus.NormalClosure, null, cancel);
                return;
            }
            int frames = got is { EndOfMessage: true, MessageType: WebSocketMessageType.Text } ? Take(Encoding.ASCII.GetString(heard, 0, got.Count), line) : -1;
            if (frames < 0)
            {
                await socket.CloseAsync(WebSocketCloseStatus.PolicyViolation, "not understood", cancel);
                return;
            }
            if (frames == 0)
                continue;
            line.Player.Fill(samples.AsSpan(0, 2 * frames));
            MemoryMarshal.AsBytes(samples.AsSpan(0, 2 * frames)).CopyTo(bytes);
            await socket.SendAsync(bytes.AsMemory(0, 2 * sizeof(float) * frames), WebSocketMessageType.Binary, endOfMessage: true, cancel);
            if (line.Player.ReadMeter() is { Overs: > 0 } meter)
                await socket.SendAsync(Encoding.ASCII.GetBytes($"overs {meter.Overs}"), WebSocketMessageType.Text, endOfMessage: true, cancel);
        }
    }

    // How many frames are to be sent now; below 0 when the words are none.
    private static int Take(string message, SoundLine line)
    {
        string[] words = message.Split(' ');
        int number = words.Length == 2 && int.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out int read) ? read : -1;
        switch (words[0])
        {
            case "ask" when number is > 0 and <= MostFrames:
                return number;
            case "on" when number is >= 0 and <= MostKey:
                line.Keys.Press(number);
                break;
            case "off" when number is >= 0 and <= MostKey:
                line.Keys.Release(number);
                break;
            case "none" when words.Length == 1:
                line.Keys.ReleaseAll();
                break;
            default:
                return -1;
        }
        line.Player.Touch(line.Keys.Played);
        return 0;
    }
}
