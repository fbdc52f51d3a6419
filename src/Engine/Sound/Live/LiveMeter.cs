namespace Consort.Engine.Sound.Live;

/// <summary>What came out since the meter was read last.</summary>
/// <param name="Peak">Highest sample of both sides against full scale, before anything was cut off.</param>
/// <param name="Overs">Samples above full scale, which were cut to it.</param>
/// <param name="Samples">Samples in all since the start.</param>
public readonly record struct LiveMeter(double Peak, long Overs, long Samples);
