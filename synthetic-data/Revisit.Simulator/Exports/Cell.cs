using System.Globalization;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>Cells as branches write them.</summary>
internal static class Cell
{
    /// <summary>A number with a decimal point, or empty when missing.</summary>
    public static string Number(double value, string format) => NumberIn(CultureInfo.InvariantCulture, value, format);

    /// <summary>A number as a culture writes it, or empty when missing.</summary>
    public static string NumberIn(CultureInfo culture, double value, string format) => double.IsNaN(value) ? "" : value.ToString(format, culture);

    /// <summary>°F as °C.</summary>
    public static double Celsius(double f) => Units.CelsiusFromFahrenheit(f);

    /// <summary>°F as K.</summary>
    public static double Kelvin(double f) => Units.KelvinFromFahrenheit(f);

    /// <summary>psig as absolute pascal at the site.</summary>
    public static double Absolute(double psig, SimulatedReading r) => Units.AbsolutePascal(psig, Air.Barometer(r.Install.ElevationFt));

    /// <summary>cfm as m³/h.</summary>
    public static double CubicMetresPerHour(double cfm) => cfm * Units.CubicMetrePerSecondPerCfm * 3_600;

    /// <summary>Ounces as grams.</summary>
    public static double Grams(double oz) => oz * 28.349523125;

    /// <summary>A code in the branch's own word; an unknown code is a fault of the table.</summary>
    public static string Word(string? code, params (string Code, string Word)[] words) =>
        code is null ? "" : words.First(w => w.Code == code).Word;

    /// <summary>Several codes joined by +, each in the branch's own word.</summary>
    public static string Words(string? codes, params (string Code, string Word)[] words) =>
        codes is null ? "" : string.Join('+', codes.Split('+').Select(c => Word(c, words)));

    /// <summary>A UTC moment on the clock of a branch.</summary>
    public static string Local(DateTime utc, TimeZoneInfo zone, string format) =>
        TimeZoneInfo.ConvertTimeFromUtc(utc, zone).ToString(format, CultureInfo.InvariantCulture);

    /// <summary>A day.</summary>
    public static string Day(DateOnly day, string format) => day.ToString(format, CultureInfo.InvariantCulture);
}
