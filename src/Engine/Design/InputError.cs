namespace Consort.Engine.Design;

/// <summary>One mistake in the input: what is wrong, where, and how to mend it. Codes never change their meaning.</summary>
/// <param name="Code">C followed by three digits; listed in docs/errors.md.</param>
/// <param name="At">Where it stands.</param>
/// <param name="What">What is wrong, in one line.</param>
/// <param name="Mend">How to mend it, in one line.</param>
/// <param name="SourceLine">The text of the line, for the caret display; empty when there is none.</param>
public sealed record InputError(string Code, SourceSpan At, string What, string Mend, string SourceLine = "");
