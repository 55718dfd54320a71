namespace Revisit.Report.Tests;

/// <summary>A small generator (PCG-XSH-RR 64/32, O'Neill 2014) for invented lakes.</summary>
internal sealed class Pcg(ulong state)
{
    private ulong state = state * 6364136223846793005UL + 1442695040888963407UL;

    public double Next()
    {
        var old = state;
        state = old * 6364136223846793005UL + 1442695040888963407UL;
        var mixed = (uint)(((old >> 18) ^ old) >> 27);
        var turn = (int)(old >> 59);
        return ((mixed >> turn) | (mixed << (-turn & 31))) / 4294967296.0;
    }

    public int Below(int n) => (int)(Next() * n);

    public T Of<T>(params ReadOnlySpan<T> choices) => choices[Below(choices.Length)];
}
