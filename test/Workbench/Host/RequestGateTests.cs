using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using System.Text;
using Consort.Workbench.Folder;
using Consort.Workbench.Host;
using Consort.Workbench.Tests.Session;
using Xunit;

namespace Consort.Workbench.Tests.Host;

public sealed class RequestGateTests : IAsyncLifetime
{
    private readonly OwnCopy folder = new("pair");
    private WorkbenchHost workbench = null!;

    private Uri Address => new(workbench.Address);

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => workbench = await WorkbenchHost.Open(folder.Path, 0, new SilentEngine(), new ClosedFolder(Path.Combine(folder.Path, "..", "data")), Cancel);

    public async ValueTask DisposeAsync()
    {
        await workbench.DisposeAsync();
        folder.Dispose();
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/voice?member=lead")]
    [InlineData("/assets/frame.css")]
    [InlineData("/_framework/blazor.web.js")]
    [InlineData("/text?file=voice.yaml")]
    public async Task What_its_own_pages_ask_is_answered(string path)
    {
        HttpResponseMessage answer = await Ask(path);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    // RFC 9110, 7.2 and WHATWG Fetch: a page under another name sends that name as Host (DNS rebinding), and its own Origin.
    [InlineData("Host", "consort.example")]
    [InlineData("Host", "127.0.0.1")]
    [InlineData("Host", "127.0.0.1:1")]
    [InlineData("Host", "localhost.example:{port}")]
    [InlineData("Host", "127.0.0.1.example:{port}")]
    [InlineData("Host", "[::1]:{port}")]
    [InlineData("Origin", "http://consort.example")]
    [InlineData("Origin", "https://127.0.0.1:{port}")]
    [InlineData("Origin", "http://127.0.0.1:1")]
    [InlineData("Origin", "http://localhost:{port}")]
    [InlineData("Origin", "null")]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Sec-Fetch-Site", "same-site")]
    public async Task What_others_ask_is_refused_for_every_path(string header, string value)
    {
        foreach (string path in new[] { "/", "/voice", "/text?file=voice.yaml", "/assets/frame.css", "/_blazor/negotiate" })
        {
            HttpResponseMessage answer = await Ask(path, header, value.Replace("{port}", Address.Port.ToString(), StringComparison.Ordinal));
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
            Assert.StartsWith("Refused:", await answer.Content.ReadAsStringAsync(Cancel), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Localhost_is_another_name_of_this_machine()
    {
        string host = $"localhost:{Address.Port}";
        Assert.Equal(HttpStatusCode.OK, (await Ask("/voice", "Host", host)).StatusCode);
    }

    [Theory]
    [InlineData(null, "403")]
    [InlineData("http://consort.example", "403")]
    [InlineData("http://127.0.0.1:1", "403")]
    [InlineData("http://127.0.0.1:{port}", "101")]
    public async Task A_web_socket_opens_for_its_own_origin_alone(string? origin, string status)
    {
        string answer = await Raw(
            $"GET /_blazor HTTP/1.1\r\nHost: 127.0.0.1:{Address.Port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Version: 13\r\n"
                + "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n" // the example of RFC 6455, 1.3
                + (origin is null ? "" : $"Origin: {origin.Replace("{port}", Address.Port.ToString(), StringComparison.Ordinal)}\r\n")
                + "\r\n"
        );
        Assert.StartsWith($"HTTP/1.1 {status} ", answer, StringComparison.Ordinal);
    }

    [Fact]
    public void It_listens_on_the_loopback_address_alone()
    {
        IPEndPoint[] listening = [.. IPGlobalProperties.GetIPGlobalProperties().GetActiveTcpListeners().Where(end => end.Port == Address.Port)];
        Assert.Equal([IPAddress.Loopback], listening.Select(end => end.Address));
    }

    [Fact]
    public async Task A_form_without_its_token_is_refused()
    {
        using HttpRequestMessage request = new(HttpMethod.Post, new Uri(Address, "/voice")) { Content = new FormUrlEncodedContent([new("a", "b")]) };
        using HttpClient client = new();
        HttpResponseMessage answer = await client.SendAsync(request, Cancel);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Theory]
    [InlineData("/")]
    [InlineData("/nowhere")]
    [InlineData("/assets/frame.css")]
    public async Task Every_answer_forbids_scripts_from_elsewhere_and_in_the_page(string path)
    {
        HttpResponseMessage answer = await Ask(path);
        string policy = answer.Headers.GetValues("Content-Security-Policy").Single();
        Assert.Contains("default-src 'none'; script-src 'self'; style-src 'self';", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal("same-origin", answer.Headers.GetValues("Cross-Origin-Resource-Policy").Single());
    }

    [Fact]
    public async Task An_address_that_names_no_screen_opens_the_workbench_which_says_so()
    {
        HttpResponseMessage answer = await Ask("/nowhere");
        string page = await answer.Content.ReadAsStringAsync(Cancel);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("<script", page, StringComparison.Ordinal); // what says so is drawn in the browser
    }

    [Fact]
    public async Task The_page_holds_no_script_style_or_address_of_elsewhere()
    {
        string page = await (await Ask("/voice")).Content.ReadAsStringAsync(Cancel);
        Assert.DoesNotContain(" style=", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<style", page, StringComparison.Ordinal);
        Assert.DoesNotContain("http://", page, StringComparison.Ordinal);
        Assert.DoesNotContain("https://", page, StringComparison.Ordinal);
        Assert.Equal(1, page.Split("<script").Length - 1);
    }

    [Theory]
    [InlineData("../secret.txt")]
    [InlineData("..%2Fsecret.txt")]
    [InlineData("modules/../../secret.txt")]
    [InlineData("modules%2F..%2F..%2Fsecret.txt")]
    [InlineData("%2Fetc%2Fpasswd")]
    [InlineData("..%5Csecret.txt")]
    [InlineData("")]
    [InlineData("voice.yaml%00")]
    public async Task A_name_that_leads_out_of_the_folder_is_refused(string name)
    {
        await File.WriteAllTextAsync(Path.Combine(folder.Path, "..", "secret.txt"), "secret", Cancel);
        HttpResponseMessage answer = await Ask($"/text?file={name}");
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.DoesNotContain("secret", (await answer.Content.ReadAsStringAsync(Cancel))[8..], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/../voice.yaml")]
    [InlineData("/assets/../../voice.yaml")]
    [InlineData("/assets/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("/_framework/..%2f..%2fvoice.yaml")]
    public async Task A_path_that_climbs_finds_nothing(string path)
    {
        string answer = await Raw($"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{Address.Port}\r\nConnection: close\r\n\r\n");
        Assert.Matches("^HTTP/1.1 (400|404) ", answer);
    }

    private async Task<HttpResponseMessage> Ask(string path, string? header = null, string? value = null)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, new Uri(Address, path));
        if (header is not null)
            request.Headers.TryAddWithoutValidation(header, value);
        using HttpClient client = new();
        return await client.SendAsync(request, Cancel);
    }

    private async Task<string> Raw(string request)
    {
        using TcpClient client = new();
        await client.ConnectAsync(IPAddress.Loopback, Address.Port, Cancel);
        await client.GetStream().WriteAsync(Encoding.ASCII.GetBytes(request), Cancel);
        byte[] answer = new byte[1 << 12];
        int length = await client.GetStream().ReadAsync(answer, Cancel);
        return Encoding.ASCII.GetString(answer, 0, length);
    }
}
