namespace Revisit.Diagnosis;

/// <summary>Uncertainties that add in squares.</summary>
internal static class Spread
{
    public static double Root(double a, double b) => Math.Sqrt(a * a + b * b);

    public static double Root(double a, double b, double c) => Math.Sqrt(a * a + b * b + c * c);

    public static double Root(double a, double b, double c, double d) => Math.Sqrt(a * a + b * b + c * c + d * d);
}
