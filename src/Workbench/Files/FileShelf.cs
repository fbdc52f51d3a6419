using System.Collections.Concurrent;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Consort.Workbench.Files;

/// <summary>Files that screens made, kept in memory until the screen makes others or is left. Each is known by a name that
/// cannot be guessed; nothing of it comes from the disk.</summary>
public sealed class FileShelf
{
    private readonly ConcurrentDictionary<string, Kept> files = new(StringComparer.Ordinal);

    /// <summary>The shelf, one for all tabs.</summary>
    public static void Add(IServiceCollection services) => services.AddSingleton<FileShelf>();

    /// <summary>Its address.</summary>
    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapGet("/made/{token}/{name}", (string token, string name, FileShelf shelf) =>
            shelf.files.TryGetValue(token, out Kept? kept) && kept.Name == name ? Results.Bytes(kept.Content, TypeOf(name)) : Results.NotFound());

    /// <summary>Keeps files for one screen.</summary>
    public ShelfPlace Place() => new(this);

    internal string Put(string name, byte[] content)
    {
        string token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        files[token] = new(name, content);
        return $"/made/{token}/{Uri.EscapeDataString(name)}";
    }

    internal void Remove(string address) => files.TryRemove(address.Split('/')[2], out _);

    private static string TypeOf(string name) =>
        Path.GetExtension(name) switch
        {
            ".svg" => "image/svg+xml",
            ".png" => "image/png",
            ".csv" => "text/csv; charset=utf-8",
            ".pdf" => "application/pdf",
            ".zip" => "application/zip",
            ".xlsx" => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
            ".json" => "application/json",
            _ => "application/octet-stream",
        };

    private sealed record Kept(string Name, byte[] Content);
}

/// <summary>What one screen keeps on the shelf.</summary>
public sealed class ShelfPlace(FileShelf shelf) : IDisposable
{
    private readonly List<string> addresses = [];

    /// <summary>Keeps a file; gives its address.</summary>
    public string Put(string name, byte[] content)
    {
        string address = shelf.Put(name, content);
        addresses.Add(address);
        return address;
    }

    /// <summary>Takes all of it off.</summary>
    public void Clear()
    {
        foreach (string address in addresses)
            shelf.Remove(address);
        addresses.Clear();
    }

    /// <inheritdoc/>
    public void Dispose() => Clear();
}
