using Consort.Engine.Pitch.Builds.Draws;
using Consort.Engine.Pitch.Builds.Lanes;

namespace Consort.Engine.Pitch.Builds;

/// <summary>
/// A gradient of temperature over a module, as while it warms up: resistors that make up for temperature are behind all the
/// rest. A resistor that much colder has another value, and nothing else changes. What lies between other parts is left out:
/// it moves little beside this, but for a pair's own halves, which have a limit of their own.
/// </summary>
internal sealed class Lag
{
    /// <summary>From this temperature coefficient on, either sign, a resistor is there to make up for something, 1/K.</summary>
    public const double LeastTempco = 1e-3;

    private readonly (int Parameter, double Factor)[] behind;

    private Lag((int, double)[] behind) => this.behind = behind;

    /// <summary>The lag of a voice's builds; null when nothing makes up for temperature, or no lag is asked.</summary>
    public static Lag? Of(VoiceBuilds builds) => Of(builds.Draws, builds.Voice.Voice.Limits.WarmUpGradient);

    /// <summary>The same of some draws.</summary>
    /// <param name="draws">What differs between builds.</param>
    /// <param name="kelvin">By how much those resistors are colder, K.</param>
    internal static Lag? Of(DrawPlan draws, double kelvin)
    {
        (int, double)[] behind =
        [
            .. from p in Enumerable.Range(0, draws.Parameters.Length)
            let drawn = draws.Parameters[p]
            where drawn.Move == MoveKind.Share && drawn.Word == "value" && drawn.Part.Kind.Word == "resistor"
            let tempco = drawn.Stated.Number("tempco")
            where Math.Abs(tempco) >= LeastTempco
            select (p, 1 - tempco * kelvin),
        ];
        return kelvin == 0 || behind.Length == 0 ? null : new(behind);
    }

    /// <summary>Departures of builds with the lag.</summary>
    public void Apply<T>(T[] departures)
        where T : struct, ILanes<T>
    {
        foreach ((int p, double factor) in behind)
            departures[p] = T.Fma(departures[p], T.Of(factor), T.Of(factor - 1));
    }
}
