namespace Consort.Engine.Pitch;

/// <summary>What an oscillator did when it was last read with its trimmers in some place: enough to say what it does, or one built
/// like it does, after turns and beside other neighbours. By trimmer in the order of its trimming sheet, and by note of that sheet.</summary>
/// <param name="Positions">By trimmer: where it stood, 0 to 1.</param>
/// <param name="Amperes">By note: the timing current at rest, A.</param>
/// <param name="Cents">By note: how far off it was, cents.</param>
/// <param name="Slopes">By note and trimmer: cents by position.</param>
/// <param name="Share">Which share of what it found a turn left; NaN when it was turned once or never.</param>
/// <param name="StandsCents">Its interval from the voice's pitch, cents.</param>
internal sealed record TrimLesson(double[] Positions, double[] Amperes, double[] Cents, double[,] Slopes, double Share, double StandsCents);
