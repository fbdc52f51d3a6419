using System.CommandLine;

namespace Consort.Cli.Verbs;

/// <summary>One verb of the command line.</summary>
internal interface IVerb
{
    /// <summary>A call that works, for the help.</summary>
    string Example { get; }

    /// <summary>Its arguments and options, bound to its work.</summary>
    Command Command();
}
