using System.Globalization;

namespace Consort.Engine.Pitch.Builds.Draws;

/// <summary>Direction numbers of Sobol's sequence by Joe and Kuo (SIAM J. Sci. Comput. 30 (2008) 2635), table
/// new-joe-kuo-6. Source and licence stand beside the table.</summary>
internal static class SobolTable
{
    /// <summary>Bits of every coordinate.</summary>
    public const int Bits = 52;

    /// <summary>Points that can be told apart: 2 to this many.</summary>
    public const int IndexBits = 32;

    private static readonly Lazy<(int Degree, int Polynomial, int[] Initial)[]> Rows = new(Read);

    /// <summary>Dimensions that the table holds.</summary>
    public static int Dimensions => Rows.Value.Length + 1;

    /// <summary>The direction numbers of a dimension (from 0), the highest of <see cref="Bits"/> bits first, by bit of the
    /// point's number: m_k·2^(Bits−k), with m_k = 2a₁m_(k−1) ⊕ 4a₂m_(k−2) ⊕ … ⊕ 2^s·m_(k−s) ⊕ m_(k−s).</summary>
    public static ulong[] Directions(int dimension)
    {
        ulong[] v = new ulong[IndexBits];
        if (dimension == 0)
        {
            for (int k = 0; k < IndexBits; k++)
                v[k] = 1UL << (Bits - 1 - k);
            return v;
        }
        (int degree, int polynomial, int[] initial) = Rows.Value[dimension - 1];
        for (int k = 0; k < IndexBits; k++)
        {
            if (k < degree)
            {
                v[k] = (ulong)initial[k] << (Bits - 1 - k);
                continue;
            }
            v[k] = v[k - degree] ^ (v[k - degree] >> degree);
            for (int i = 1; i < degree; i++)
                if (((polynomial >> (degree - 1 - i)) & 1) != 0)
                    v[k] ^= v[k - i];
        }
        return v;
    }

    private static (int, int, int[])[] Read()
    {
        using Stream file = typeof(SobolTable).Assembly.GetManifestResourceStream("Consort.Engine.Pitch.Builds.Draws.new-joe-kuo-6.2048.txt")!;
        using StreamReader reader = new(file);
        reader.ReadLine(); // d s a m_i
        List<(int, int, int[])> rows = [];
        while (reader.ReadLine() is { } line)
        {
            int[] numbers = [.. line.Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries).Select(word => int.Parse(word, CultureInfo.InvariantCulture))];
            rows.Add((numbers[1], numbers[2], numbers[3..]));
        }
        return [.. rows];
    }
}
