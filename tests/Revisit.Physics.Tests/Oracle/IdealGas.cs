namespace Revisit.Physics.Tests.Oracle;

/// <summary>The ideal-gas part of a published equation of state, but for the constants that set zeros.</summary>
internal sealed class IdealGas(string name)
{
    private readonly (string Kind, double N, double T)[] _terms =
        [.. Published.Rows("eos_ideal.csv").Where(r => r["name"] == name).Select(r => (r["kind"], r.Number("n"), r.Number("t")))];

    private readonly double _reducingK = HelmholtzFluid.Read(name).ReducingK;

    /// <summary>Helmholtz energy over RT without the density's logarithm.</summary>
    public double Value(double kelvin) => _terms.Sum(term => Term(term, _reducingK / kelvin));

    private double Term((string Kind, double N, double T) term, double tau) => term.Kind switch
    {
        "log_tau" => term.N * Math.Log(tau),
        "power" => term.N * Math.Pow(tau, term.T),
        "planck_einstein" => term.N * Math.Log(1.0 - Math.Exp(-term.T * tau)),
        "heat_constant" => term.N * Math.Log(tau),
        "heat_power" => -term.N * Math.Pow(_reducingK / tau, term.T) / (term.T * (term.T + 1.0)),
        _ => throw new ArgumentException($"Unknown term {term.Kind}."),
    };
}
