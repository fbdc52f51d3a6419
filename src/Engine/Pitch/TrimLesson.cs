namespace Consort.Engine.Pitch;

/// <summary>What trimming one oscillator taught of all that are built like it: where its trimmers came to stand, and what that
/// did. By trimmer in the order of its trimming sheet, and by note of that sheet.</summary>
/// <param name="Positions">By trimmer: where it came to stand, 0 to 1.</param>
/// <param name="Amperes">By note: the timing current at rest with the trimmers there, A.</param>
/// <param name="Cents">By note: what was left there, cents.</param>
/// <param name="Slopes">By note and trimmer: cents by position.</param>
/// <param name="Share">Which share of what it found a turn left; NaN when it was turned once or never.</param>
/// <param name="StandsCents">Its interval from the voice's pitch, cents.</param>
internal sealed record TrimLesson(double[] Positions, double[] Amperes, double[] Cents, double[,] Slopes, double Share, double StandsCents);
