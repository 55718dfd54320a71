namespace Revisit.Physics.Tests.Oracle;

/// <summary>
/// One term n·δ^d·τ^t of a residual Helmholtz energy, times exp(−δ^l) where l is not 0, times exp(−η(δ−ε)² − β(τ−γ)²) where η or β
/// is not 0.
/// </summary>
internal sealed record Term(double N, double T, double D, double L, double Eta, double Epsilon, double Beta, double Gamma)
{
    /// <summary>Value at reciprocal reduced temperature τ and reduced density δ.</summary>
    public double Value(double tau, double delta)
    {
        double value = N * Math.Pow(delta, D) * Math.Pow(tau, T);
        if (L > 0) value *= Math.Exp(-Math.Pow(delta, L));
        if (Eta != 0 || Beta != 0) value *= Math.Exp(-Eta * (delta - Epsilon) * (delta - Epsilon) - Beta * (tau - Gamma) * (tau - Gamma));
        return value;
    }
}

/// <summary>A published equation of state: αr(τ, δ) as a sum of terms, and the reducing point.</summary>
internal sealed record HelmholtzFluid(string Name, double ReducingK, double ReducingMolPerM3, double GasConstant, double MolarMassKg, IReadOnlyList<Term> Terms)
{
    /// <summary>Residual Helmholtz energy over RT.</summary>
    public double Residual(double tau, double delta) => Terms.Sum(term => term.Value(tau, delta));

    /// <summary>Reads <c>eos_fluids.csv</c> and <c>eos_terms.csv</c>; the departure function of a pair is read as a fluid too.</summary>
    public static HelmholtzFluid Read(string name)
    {
        var terms = Published.Rows("eos_terms.csv").Where(r => r["name"] == name)
            .Select(r => new Term(r.Number("n"), r.Number("t"), r.Number("d"), r.Number("l"), r.Number("eta"), r.Number("epsilon"), r.Number("beta"), r.Number("gamma")));
        var fluid = Published.Rows("eos_fluids.csv").Single(r => r["name"] == name);
        return new(name, fluid.Number("reducing_k"), fluid.Number("reducing_mol_per_m3"), fluid.Number("gas_constant"), fluid.Number("molar_mass_kg"), [.. terms]);
    }
}
