using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Runtime.CompilerServices;

namespace Revisit.Physics;

/// <summary>The range an argument may have, and the message for a value outside it.</summary>
internal static class Bounds
{
    /// <summary>Returns <paramref name="value"/> if it lies in the range; NaN never does.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Outside the range; the message holds value, range and unit.</exception>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Check(double value, double low, double high, string unit, string name)
    {
        if (!Holds(value, low, high)) Refuse(value, low, high, unit, name);
        return value;
    }

    /// <summary>True if the value lies in the range, its ends included; NaN never does.</summary>
    public static bool Holds(double value, double low, double high) => value >= low && value <= high;

    [DoesNotReturn]
    private static void Refuse(double value, double low, double high, string unit, string name) =>
        throw new ArgumentOutOfRangeException(name, value, string.Create(CultureInfo.InvariantCulture, $"{name} is {value:G9} {unit}; allowed: {low:G9} to {high:G9} {unit}."));
}
