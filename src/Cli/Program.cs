using System.Text;
using Consort.Cli;

UTF8Encoding encoding = new(encoderShouldEmitUTF8Identifier: false);
using StreamWriter output = new(Console.OpenStandardOutput(), encoding, 1 << 14);
using StreamWriter error = new(Console.OpenStandardError(), encoding) { AutoFlush = true };
bool isTerminal = !Console.IsOutputRedirected;
bool wantsStyles = string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));
Screen screen = new(
    output,
    error,
    isTerminal && Console.WindowWidth > 0 ? Math.Max(60, Console.WindowWidth) : Screen.PlainWidth,
    isTerminal && wantsStyles,
    !Console.IsErrorRedirected
);
try
{
    int code = await CommandLine.Run(args, screen);
    output.Flush();
    return code;
}
catch (IOException) when (!isTerminal)
{
    return Exit.Done; // the reader of our output has seen enough and closed it
}
