using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Xunit;

namespace Consort.Tests.Sound;

/// <summary>An independent program that reads sound files (Debian's sox). ./check installs it where it can.</summary>
internal static partial class Sox
{
    /// <summary>A figure of its statistics: 0 overall, then by channel.</summary>
    public static double Column(string stats, string name, int column)
    {
        string line = stats.Split('\n').Single(line => line.StartsWith(name, StringComparison.Ordinal));
        return double.Parse(Spaces().Split(line[name.Length..].Trim())[column], CultureInfo.InvariantCulture);
    }

    /// <summary>What it prints; a test is skipped where it is not installed.</summary>
    public static string Run(params string[] arguments)
    {
        ProcessStartInfo start = new("sox", arguments) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        try
        {
            using Process process = Process.Start(start)!;
            string output = process.StandardOutput.ReadToEnd() + process.StandardError.ReadToEnd();
            process.WaitForExit();
            return output;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Assert.Skip("sox is not installed here, and ./check could not install it: apt-get install sox");
            throw;
        }
    }

    [GeneratedRegex(" +")]
    private static partial Regex Spaces();
}
