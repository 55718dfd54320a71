namespace Revisit.Forecast;

/// <summary>
/// SplitMix64 (Steele, Lea and Flood 2014, from memory): a generator whose stream depends on its seed alone,
/// the same on every machine and library version.
/// </summary>
internal sealed class SeededRandom(ulong seed)
{
    private ulong state = seed;

    /// <summary>Evenly spread in [0, 1).</summary>
    public double Next()
    {
        state += 0x9E3779B97F4A7C15UL;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return ((z ^ (z >> 31)) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>A whole number in [0, <paramref name="below"/>).</summary>
    public int Below(int below) => (int)(Next() * below);
}
