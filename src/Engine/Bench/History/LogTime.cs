using System.Globalization;

namespace Consort.Engine.Bench.History;

/// <summary>Times as the log and its files write them: universal time to the millisecond (ISO 8601), so that texts sort as
/// times do.</summary>
public static class LogTime
{
    private const string Format = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    private static readonly string[] Known =
        ["yyyy-MM-dd'T'HH:mm:ss.FFFK", "yyyy-MM-dd'T'HH:mmK", "yyyy-MM-dd HH:mm:ssK", "yyyy-MM-dd HH:mmK", "yyyy-MM-dd"];

    /// <summary>The text.</summary>
    public static string Text(DateTimeOffset time) => time.ToUniversalTime().ToString(Format, CultureInfo.InvariantCulture);

    /// <summary>As a person reads it, to the minute.</summary>
    public static string Short(DateTimeOffset time) => time.ToUniversalTime().ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Reads a date, alone or with a time of the day, which is universal where no offset stands; null when it is none.</summary>
    public static DateTimeOffset? Read(string text) =>
        DateTimeOffset.TryParseExact(text, Known, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset time) ? time.ToUniversalTime() : null;
}
