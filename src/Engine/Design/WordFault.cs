namespace Consort.Engine.Design;

/// <summary>What is wrong with words of a call, and how to mend it.</summary>
public sealed record WordFault(string What, string Mend);
