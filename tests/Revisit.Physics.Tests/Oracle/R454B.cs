namespace Revisit.Physics.Tests.Oracle;

/// <summary>R-454B, 68.9/31.1 % by mass of R-32 and R-1234yf, in two published mixture models.</summary>
internal static class R454B
{
    private static readonly HelmholtzFluid R32 = HelmholtzFluid.Read("R-32"), R1234yf = HelmholtzFluid.Read("R-1234yf");

    /// <summary>
    /// I. H. Bell, J. Phys. Chem. Ref. Data 52 (2023) 013101: the model that the shipped nodes come from. R-32 comes first.
    /// Parameters as carried by the open CoolProp library.
    /// </summary>
    public static HelmholtzMixture Bell2023 { get; } =
        new(R32, R1234yf, HelmholtzFluid.Read("R-32/1234yf"), betaT: 1.011011, gammaT: 0.966965, betaV: 1.007852, gammaV: 1.037663);

    /// <summary>
    /// I. H. Bell and E. W. Lemmon, J. Chem. Eng. Data 61 (2016) 3752: two parameters fitted by machine to 73 bubble pressures, which
    /// they meet within 0.21 % on average; no departure function. R-1234yf comes first. Figures from the supplement, as copied in the
    /// open CoolProp library's dev/mixtures/Bell2016Coefficients.txt.
    /// </summary>
    public static HelmholtzMixture BellLemmon2016 { get; } =
        new(R1234yf, R32, null, betaT: 0.99143, gammaT: 0.95802, betaV: 1.0, gammaV: 1.0);

    /// <summary>Mole fraction of R-32.</summary>
    public static double FractionR32
    {
        get
        {
            double a = 0.689 / R32.MolarMassKg, b = 0.311 / R1234yf.MolarMassKg;
            return a / (a + b);
        }
    }

    /// <summary>Bubble or dew pressures [Pa] of a model at rising temperatures [K].</summary>
    public static IEnumerable<double> Pressures(HelmholtzMixture model, bool bubble, IEnumerable<double> kelvin)
    {
        bool r32First = ReferenceEquals(model, Bell2023);
        double Of(double r32) => r32First ? r32 : 1.0 - r32;
        double[] guess = [Math.Log(18_600.0), Math.Log(135.0), Of(bubble ? 0.89 : 0.70)];
        return kelvin.Select(t => PhaseEquilibrium.Pressure(model, t, Of(FractionR32), bubble, guess));
    }
}
