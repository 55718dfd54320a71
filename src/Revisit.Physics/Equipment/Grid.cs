namespace Revisit.Physics;

/// <summary>Places on a rising axis.</summary>
internal static class Grid
{
    /// <summary>The interval of a value and where in it the value lies, 0…1; values beyond the ends are held at them.</summary>
    public static void Locate(double[] axis, double value, out int interval, out double share)
    {
        int i = 0;
        while (i < axis.Length - 2 && value >= axis[i + 1]) i++;
        interval = i;
        share = Math.Clamp((value - axis[i]) / (axis[i + 1] - axis[i]), 0.0, 1.0);
    }
}
