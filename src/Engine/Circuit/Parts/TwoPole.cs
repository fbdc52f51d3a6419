using Consort.Engine.Design;

namespace Consort.Engine.Circuit.Parts;

/// <summary>One conductance of a bank whose parts are several resistances.</summary>
internal readonly struct TwoPole
{
    public readonly int A,
        B;
    private readonly Quad quad;

    public TwoPole(int a, int b, Assembly at)
    {
        (A, B) = (a, b);
        quad = at.Quad(a, b);
    }

    /// <summary>False for one that was left out.</summary>
    public bool IsThere => A != B;

    public void Add(double[] matrix, double g) => quad.Add(matrix, g);

    /// <summary>Thermal noise 4kT·g.</summary>
    public void AddNoise(NoiseList into, string name, double kelvin, double g)
    {
        if (IsThere && g > 0)
            into.Add(name, A, B, 4 * Constants.Boltzmann * kelvin * g);
    }
}
