using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Primitives;

namespace Consort.Workbench.Host;

/// <summary>Lets in what the workbench's own pages ask and nothing else. Any page that the browser has open may send
/// requests to this machine; they bear its origin, or the name that it was found under (DNS rebinding).</summary>
internal sealed class RequestGate(RequestDelegate next, IWorkbenchAddress address)
{
    private const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; media-src 'self' blob:; worker-src 'self'; "
        + "connect-src 'self' ws://127.0.0.1:PORT ws://localhost:PORT; form-action 'self'; base-uri 'self'; frame-ancestors 'none'; manifest-src 'none'; object-src 'none'";

    /// <summary>Checks one request, and marks its answer.</summary>
    public Task InvokeAsync(HttpContext context)
    {
        Protect(context.Response.Headers);
        if (Refusal(context.Request) is not { } reason)
            return next(context);
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync($"Refused: {reason}.\n");
    }

    private string? Refusal(HttpRequest request)
    {
        if (!IsOurs(request.Host))
            return "the Host is not this workbench";
        StringValues origin = request.Headers.Origin;
        if (origin.Count > 0 && !(origin.Count == 1 && IsOurs(origin[0], request)))
            return "the Origin is not this workbench";
        if (request.HttpContext.WebSockets.IsWebSocketRequest && origin.Count == 0)
            return "a WebSocket without Origin";
        string site = request.Headers["Sec-Fetch-Site"].ToString();
        bool isVisit = request.Headers["Sec-Fetch-Mode"] == "navigate" && HttpMethods.IsGet(request.Method) && request.Headers["Sec-Fetch-Dest"] == "document";
        return site is "cross-site" or "same-site" && !isVisit ? "asked by another page" : null;
    }

    private bool IsOurs(HostString host) => host.Port == address.Port && host.Host is "127.0.0.1" or "localhost";

    private bool IsOurs(string? origin, HttpRequest request) => origin == $"http://{request.Host.Value}";

    private void Protect(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy = Policy.Replace("PORT", address.Port.ToString(), StringComparison.Ordinal);
        headers.XContentTypeOptions = "nosniff";
        headers.XFrameOptions = "DENY";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Embedder-Policy"] = "require-corp";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), payment=(), usb=()";
    }
}

/// <summary>Where this workbench listens.</summary>
internal interface IWorkbenchAddress
{
    /// <summary>Its port.</summary>
    int Port { get; }
}
