namespace Benchmarks;

/// <summary>
/// The dew line of R-410A as it is printed, one pressure at a time and nothing tabulated:
/// ln(p/p0) = (T0/T) Σ n θ^t with θ = 1 − T/T0. E. W. Lemmon, Int. J. Thermophys. 24 (2003) 991; coefficients as carried by the open
/// CoolProp library.
/// </summary>
internal static class LiteralSaturation
{
    private const double CriticalK = 344.494, CriticalPa = 4.9012e6;
    private static readonly double[] N = [-7.4411, 1.9883, -2.4925, -3.2633], T = [1.0, 1.6, 2.4, 5.0];

    /// <summary>Dew temperature [K] at a pressure [Pa absolute], by the secant method on ln p against 1/T to 1e−7 K.</summary>
    public static double DewTemperature(double pascal)
    {
        double target = Math.Log(pascal / CriticalPa);
        double a = 1.0 / 280.0, b = 1.0 / 290.0, atA = LogReduced(280.0) - target;
        for (int i = 0; i < 50; i++)
        {
            double atB = LogReduced(1.0 / b) - target;
            double next = b - atB * (b - a) / (atB - atA);
            (a, b, atA) = (b, next, atB);
            if (Math.Abs(1.0 / a - 1.0 / b) < 1e-7) break;
        }

        return 1.0 / b;
    }

    private static double LogReduced(double kelvin)
    {
        double theta = 1.0 - kelvin / CriticalK, sum = 0.0;
        for (int i = 0; i < N.Length; i++) sum += N[i] * Math.Pow(theta, T[i]);
        return CriticalK / kelvin * sum;
    }
}
