using System.Globalization;

namespace Revisit.Physics;

/// <summary>The range an argument may have, and the message for a value outside it.</summary>
internal static class Bounds
{
    /// <summary>Returns <paramref name="value"/> if it lies in the range; NaN never does.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Outside the range; the message holds value, range and unit.</exception>
    public static double Check(double value, double low, double high, string unit, string name)
    {
        if (Holds(value, low, high)) return value;
        throw new ArgumentOutOfRangeException(name, value, Message(value, low, high, unit, name));
    }

    /// <summary>True if the value lies in the range, its ends included; NaN never does.</summary>
    public static bool Holds(double value, double low, double high) => value >= low && value <= high;

    private static string Message(double value, double low, double high, string unit, string name) =>
        string.Create(CultureInfo.InvariantCulture, $"{name} is {value:G9} {unit}; allowed: {low:G9} to {high:G9} {unit}.");
}
