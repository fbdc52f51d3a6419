namespace Consort.Engine.Design;

/// <summary>A place where a net is named: a terminal, or a formula that reads it.</summary>
/// <param name="Net">The net.</param>
/// <param name="Part">The part's designator.</param>
/// <param name="Terminal">The terminal; for a formula <c>formula</c>.</param>
/// <param name="MayStandAlone">True where a net of its own is no mistake: a pin of a header, a rail, a
/// voltage source that feeds nothing, 'open'.</param>
internal readonly record struct NetUse(string Net, string Part, string Terminal, SourceSpan At, bool MayStandAlone);
