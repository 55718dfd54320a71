namespace Revisit.Simulator;

/// <summary>
/// xoshiro256** 1.0 (Blackman and Vigna, "Scrambled linear pseudorandom number generators", 2018), seeded by SplitMix64, from memory.
/// Each install and purpose has its own stream, so an install is the same whatever was drawn before it.
/// </summary>
internal sealed class Rng
{
    private ulong a, b, c, d;
    private double spare = double.NaN;

    /// <summary>The stream of an install for one purpose.</summary>
    public Rng(ulong seed, long install, int purpose)
    {
        var mix = seed;
        mix = Next(ref mix) ^ ((ulong)install * 0xD1B54A32D192ED03UL);
        mix = Next(ref mix) ^ ((ulong)purpose * 0xAEF17502108EF2D9UL);
        a = Next(ref mix);
        b = Next(ref mix);
        c = Next(ref mix);
        d = Next(ref mix);
    }

    /// <summary>64 random bits.</summary>
    public ulong Bits()
    {
        var result = ulong.RotateLeft(b * 5, 7) * 9;
        var t = b << 17;
        c ^= a;
        d ^= b;
        b ^= c;
        a ^= d;
        c ^= t;
        d = ulong.RotateLeft(d, 45);
        return result;
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double Uniform() => (Bits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform in [low, high).</summary>
    public double Between(double low, double high) => low + (high - low) * Uniform();

    /// <summary>Whole number in [0, count).</summary>
    public int Below(int count) => (int)(Uniform() * count);

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => Uniform() < probability;

    /// <summary>One of several, by weight.</summary>
    public int Weighted(ReadOnlySpan<double> weights)
    {
        var total = 0.0;
        foreach (var w in weights)
            total += w;
        var at = Uniform() * total;
        for (var i = 0; i < weights.Length - 1; i++)
        {
            at -= weights[i];
            if (at < 0)
                return i;
        }

        return weights.Length - 1;
    }

    /// <summary>Normal, by the polar method.</summary>
    public double Normal(double mean, double sd)
    {
        if (!double.IsNaN(spare))
        {
            var kept = spare;
            spare = double.NaN;
            return mean + sd * kept;
        }

        double u, v, s;
        do
        {
            u = 2 * Uniform() - 1;
            v = 2 * Uniform() - 1;
            s = u * u + v * v;
        }
        while (s >= 1 || s == 0);

        var scale = Math.Sqrt(-2 * Math.Log(s) / s);
        spare = v * scale;
        return mean + sd * u * scale;
    }

    private static ulong Next(ref ulong state)
    {
        var z = state += 0x9E3779B97F4A7C15UL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
