namespace Revisit.Physics.Tests.Oracle;

/// <summary>
/// Density, enthalpy and entropy of one phase of a refrigerant as a whole (a blend at its own composition), from the Helmholtz energy by
/// differences: slow and plain, to hold the shipped nodes against.
/// </summary>
internal sealed class SinglePhase
{
    private readonly HelmholtzMixture _model;
    private readonly IdealGas[] _ideal;
    private readonly double[] _fractions;
    private readonly double _molarMassKg;

    public SinglePhase(string designation)
    {
        string[] names = designation == "R-454B" ? ["R-32", "R-1234yf"] : [designation];
        _fractions = designation == "R-454B" ? [R454B.FractionR32, 1.0 - R454B.FractionR32] : [1.0];
        _model = designation == "R-454B" ? R454B.Bell2023 : new HelmholtzMixture(HelmholtzFluid.Read(designation));
        _ideal = [.. names.Select(name => new IdealGas(name))];
        _molarMassKg = names.Zip(_fractions, (name, x) => x * HelmholtzFluid.Read(name).MolarMassKg).Sum();
    }

    /// <summary>Density [kg/m³] at a temperature [K] and pressure [Pa], by Newton on ln ρ from a guess in the right phase.</summary>
    public double Density(double kelvin, double pascal, double guess)
    {
        double log = Math.Log(guess / _molarMassKg);
        for (int i = 0; i < 50; i++)
        {
            double miss = Pressure(log) - pascal, step = miss / ((Pressure(log + 1e-5) - Pressure(log - 1e-5)) / 2e-5);
            log -= Math.Clamp(step, -0.02, 0.02);
            if (Math.Abs(step) < 1e-9) return Math.Exp(log) * _molarMassKg;
        }

        throw new InvalidOperationException($"No density found at {kelvin} K, {pascal} Pa.");

        double Pressure(double logMol) => _model.Pressure(kelvin, [.. _fractions.Select(x => x * Math.Exp(logMol))]);
    }

    /// <summary>Enthalpy [J/kg] from an arbitrary zero.</summary>
    public double Enthalpy(double kelvin, double density)
    {
        double[] mol = Mol(density);
        double energy = -_model.GasConstant * kelvin * kelvin * Slope(t => Value(t, mol), kelvin);
        return (energy + _model.Pressure(kelvin, mol) / mol.Sum()) / _molarMassKg;
    }

    /// <summary>Entropy [J/(kg K)] from an arbitrary zero.</summary>
    public double Entropy(double kelvin, double density)
    {
        double[] mol = Mol(density);
        return -_model.GasConstant * (Value(kelvin, mol) + kelvin * Slope(t => Value(t, mol), kelvin)) / _molarMassKg;
    }

    private double Value(double kelvin, double[] mol) =>
        Math.Log(mol.Sum()) + _ideal.Zip(_fractions, (gas, x) => x * gas.Value(kelvin)).Sum() + _model.ResidualTimesAmount(kelvin, mol) / mol.Sum();

    private double[] Mol(double density) => [.. _fractions.Select(x => x * density / _molarMassKg)];

    private static double Slope(Func<double, double> f, double at)
    {
        double h = 3e-4 * at;
        return (8.0 * (f(at + h) - f(at - h)) - (f(at + 2.0 * h) - f(at - 2.0 * h))) / (12.0 * h);
    }
}
