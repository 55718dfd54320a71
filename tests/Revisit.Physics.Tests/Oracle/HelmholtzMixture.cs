namespace Revisit.Physics.Tests.Oracle;

/// <summary>
/// Literal multi-fluid Helmholtz model: a pure fluid, or two with the reducing functions of the GERG form
/// (Kunz and Wagner, J. Chem. Eng. Data 57 (2012) 3032, eq. 16 and 17) and, where there is one, a departure function.
/// Derivatives by central differences: slow and plain, to hold the fast code against.
/// </summary>
internal sealed class HelmholtzMixture
{
    private readonly HelmholtzFluid[] _fluids;
    private readonly HelmholtzFluid? _departure;
    private readonly double _betaT, _gammaT, _betaV, _gammaV;

    public HelmholtzMixture(HelmholtzFluid pure)
    {
        _fluids = [pure];
        GasConstant = pure.GasConstant;
    }

    public HelmholtzMixture(HelmholtzFluid first, HelmholtzFluid second, HelmholtzFluid? departure, double betaT, double gammaT, double betaV, double gammaV)
    {
        _fluids = [first, second];
        _departure = departure;
        (_betaT, _gammaT, _betaV, _gammaV) = (betaT, gammaT, betaV, gammaV);
        GasConstant = 8.314462618; // CODATA 2018, as for every mixture in the library the nodes come from
    }

    public double GasConstant { get; }

    public int Components => _fluids.Length;

    /// <summary>Residual Helmholtz energy over RT of n mol in a cubic metre at a temperature.</summary>
    public double ResidualTimesAmount(double kelvin, ReadOnlySpan<double> mol)
    {
        if (Components == 1)
        {
            HelmholtzFluid f = _fluids[0];
            return mol[0] * f.Residual(f.ReducingK / kelvin, mol[0] / f.ReducingMolPerM3);
        }

        double n = mol[0] + mol[1], x = mol[0] / n, y = mol[1] / n;
        (HelmholtzFluid a, HelmholtzFluid b) = (_fluids[0], _fluids[1]);
        double reducingK = x * x * a.ReducingK + y * y * b.ReducingK
            + 2.0 * x * y * _betaT * _gammaT / (_betaT * _betaT * x + y) * Math.Sqrt(a.ReducingK * b.ReducingK);
        double mixedVolume = Math.Pow(Math.Cbrt(1.0 / a.ReducingMolPerM3) + Math.Cbrt(1.0 / b.ReducingMolPerM3), 3) / 8.0;
        double reducingVolume = x * x / a.ReducingMolPerM3 + y * y / b.ReducingMolPerM3
            + 2.0 * x * y * _betaV * _gammaV / (_betaV * _betaV * x + y) * mixedVolume;
        double tau = reducingK / kelvin, delta = n * reducingVolume;
        return n * (x * a.Residual(tau, delta) + y * b.Residual(tau, delta) + x * y * (_departure?.Residual(tau, delta) ?? 0.0));
    }

    /// <summary>Pressure [Pa] at a temperature [K] and amounts per volume [mol/m³].</summary>
    public double Pressure(double kelvin, double[] mol)
    {
        // p = RT(ρ + ρ² ∂αr/∂ρ), written with A = ρ αr: ρ ∂A/∂ρ − A = ρ² ∂αr/∂ρ
        double slope = Slope(h => ResidualTimesAmount(kelvin, [.. mol.Select(m => m * (1.0 + h))]));
        return GasConstant * kelvin * (mol.Sum() + slope - ResidualTimesAmount(kelvin, mol));
    }

    /// <summary>Logarithm of the fugacity over RT of a component.</summary>
    public double LogFugacity(double kelvin, double[] mol, int component)
    {
        double total = mol.Sum();
        double slope = Slope(h => ResidualTimesAmount(kelvin, [.. mol.Select((m, i) => i == component ? m + h * total : m)]));
        return Math.Log(mol[component]) + slope / total;
    }

    /// <summary>Derivative at 0 by the five-point central difference.</summary>
    private static double Slope(Func<double, double> f)
    {
        const double h = 3e-4;
        return (8.0 * (f(h) - f(-h)) - (f(2.0 * h) - f(-2.0 * h))) / (12.0 * h);
    }
}
