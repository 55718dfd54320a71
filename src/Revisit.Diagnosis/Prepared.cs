namespace Revisit.Diagnosis;

/// <summary>Signatures laid out flat for one pass, with the prior of each: the base rate of its cause shared among its severities.</summary>
internal sealed class Prepared
{
    private readonly double[] at82;
    private readonly double[] slope;

    public Prepared(IReadOnlyList<Signature> signatures)
    {
        Signatures = signatures;
        Count = signatures.Count;
        Cause = [.. signatures.Select(s => s.Cause)];
        LogPrior = [.. signatures.Select(s => Math.Log(Diagnosis.Signatures.BaseRates[s.Cause] / signatures.Count(o => o.Cause == s.Cause)))];
        at82 = [.. signatures.SelectMany(s => s.At82)];
        slope = [.. signatures.SelectMany(s => s.At95.Zip(s.At82, (b, a) => b - a))];
    }

    public IReadOnlyList<Signature> Signatures { get; }

    public int Count { get; }

    public int[] Cause { get; }

    public double[] LogPrior { get; }

    /// <summary>Shift a signature predicts, no lower than the floor.</summary>
    public double Mean(int hypothesis, int residual, double between, double floor)
    {
        var i = hypothesis * ResidualSet.Count + residual;
        var mean = at82[i] + between * slope[i];
        return mean < floor ? floor : mean; // NaN floors compare false and leave the mean alone
    }

    /// <summary>The severity of a cause that weighs most.</summary>
    public int BestOf(int cause, double[] weights)
    {
        var best = -1;
        for (var h = 0; h < Count; h++)
        {
            if (Cause[h] == cause && (best < 0 || weights[h] > weights[best]))
            {
                best = h;
            }
        }

        return best;
    }
}
