using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Consort.Workbench.Host;

/// <summary>Styles and scripts, all inside the program: a request can name one of these and nothing else.</summary>
internal static class OwnAssets
{
    private const string Mark = "asset:";

    private static readonly FrozenDictionary<string, Asset> All = Find().ToFrozenDictionary(asset => asset.Path, StringComparer.Ordinal);

    /// <summary>Paths of the style sheets, the frame's first.</summary>
    public static IReadOnlyList<string> Styles { get; } =
        [.. All.Keys.Where(path => path.EndsWith(".css", StringComparison.Ordinal)).OrderBy(path => path.StartsWith("/assets/", StringComparison.Ordinal) ? 0 : 1).ThenBy(path => path, StringComparer.Ordinal)];

    /// <summary>A path with its version, so that a browser keeps it until it changes.</summary>
    public static string At(string path) => $"{path}?v={All[path].Version}";

    /// <summary>Answers requests for assets.</summary>
    public static void Map(IEndpointRouteBuilder routes)
    {
        foreach (Asset asset in All.Values)
            routes.MapGet(asset.Path, (HttpContext context) => Send(context, asset));
    }

    private static IResult Send(HttpContext context, Asset asset)
    {
        context.Response.Headers.CacheControl = context.Request.Query["v"] == asset.Version ? "private, max-age=31536000, immutable" : "no-cache";
        return Results.Bytes(asset.Content, asset.Type, entityTag: new($"\"{asset.Version}\""));
    }

    private static IEnumerable<Asset> Find()
    {
        Assembly program = typeof(OwnAssets).Assembly;
        foreach (string name in program.GetManifestResourceNames().Where(name => name.StartsWith(Mark, StringComparison.Ordinal)))
        {
            using Stream stream = program.GetManifestResourceStream(name)!;
            byte[] content = new byte[stream.Length];
            stream.ReadExactly(content);
            yield return new(name[Mark.Length..], content, TypeOf(name), Convert.ToHexStringLower(SHA256.HashData(content))[..16]);
        }
    }

    private static string TypeOf(string name) =>
        Path.GetExtension(name) switch
        {
            ".css" => "text/css; charset=utf-8",
            ".js" => "text/javascript; charset=utf-8",
            ".svg" => "image/svg+xml",
            string other => throw new InvalidOperationException($"what is served as {other}?"),
        };

    private sealed record Asset(string Path, byte[] Content, string Type, string Version);
}
