namespace Consort.Engine.Design;

/// <summary>One kind of mistake. Its code never changes its meaning and is never given again.</summary>
/// <param name="Code">C and three digits.</param>
/// <param name="Title">The mistake in a few words.</param>
/// <param name="Why">Why it is one and what to do, for docs/errors.md.</param>
public sealed record ErrorCode(string Code, string Title, string Why);
