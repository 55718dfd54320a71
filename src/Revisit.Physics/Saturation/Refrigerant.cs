namespace Revisit.Physics;

/// <summary>
/// Saturation of one refrigerant, −40…150 °F: a row of <c>Data/refrigerants.csv</c> and its nodes in <c>Data/saturation.csv</c> and
/// <c>Data/properties.csv</c>. The nodes go on to 0.99 of the critical temperature, for the equipment model alone.
/// </summary>
/// <remarks>
/// Superheat is measured from the dew line (last liquid gone), subcooling from the bubble line (last vapour gone). For a pure
/// refrigerant the two lines are one. All pressures are absolute.
/// </remarks>
public sealed class Refrigerant
{
    private readonly SaturationCurve _dew, _bubble;

    internal Refrigerant(RefrigerantRow row, SaturationCurve bubble, SaturationCurve dew, CycleProperties cycle)
    {
        (IsentropicExponent, Cycle) = (row.IsentropicExponent, cycle);
        (Designation, SafetyGroup, Composition, Source) = (row.Designation, row.SafetyGroup, row.Composition, row.Source);
        (_bubble, _dew) = (bubble, dew);
    }

    /// <summary>Designation by ASHRAE Standard 34, such as <c>R-410A</c>.</summary>
    public string Designation { get; }

    /// <summary>Safety group by ASHRAE Standard 34: A1 (not flammable) or A2L (lower flammability).</summary>
    public string SafetyGroup { get; }

    /// <summary>Components with shares by mass in percent, or the pure substance.</summary>
    public string Composition { get; }

    /// <summary>Exponent of the ideal compressor's work, from the table.</summary>
    internal double IsentropicExponent { get; }

    /// <summary>Densities, volumes and enthalpies by pressure, for the equipment model.</summary>
    internal CycleProperties Cycle { get; }

    /// <summary>Highest pressure of the equipment model [Pa absolute]: the dew line's at the last node (R-410A 674 psig), where densities between the nodes still hold within 0.06 %.</summary>
    internal double CycleMaxPa => _dew.EndPa;

    /// <summary>Bubble temperature [K] up to <see cref="CycleMaxPa"/>, unchecked.</summary>
    internal double CycleBubbleTemperature(double absolutePressurePa) => _bubble.Temperature(absolutePressurePa);

    /// <summary>Where the saturation lines come from.</summary>
    public string Source { get; }

    /// <summary>Lowest saturation temperature [K]: −40 °F (−40 °C).</summary>
    public double MinTemperatureK => Refrigerants.MinTemperatureK;

    /// <summary>Highest saturation temperature [K]: 150 °F.</summary>
    public double MaxTemperatureK => Refrigerants.MaxTemperatureK;

    /// <summary>Lowest pressure on the dew line [Pa absolute].</summary>
    public double MinDewPressurePa => _dew.MinPa;

    /// <summary>Highest pressure on the dew line [Pa absolute].</summary>
    public double MaxDewPressurePa => _dew.MaxPa;

    /// <summary>Lowest pressure on the bubble line [Pa absolute].</summary>
    public double MinBubblePressurePa => _bubble.MinPa;

    /// <summary>Highest pressure on the bubble line [Pa absolute].</summary>
    public double MaxBubblePressurePa => _bubble.MaxPa;

    /// <summary>Dew temperature, for superheat.</summary>
    /// <param name="absolutePressurePa">Pressure [Pa absolute].</param>
    /// <param name="kelvin">Dew temperature [K], or NaN.</param>
    /// <returns>False if the pressure is outside <see cref="MinDewPressurePa"/>…<see cref="MaxDewPressurePa"/> or NaN.</returns>
    public bool TryDewTemperature(double absolutePressurePa, out double kelvin) => TryTemperature(_dew, absolutePressurePa, out kelvin);

    /// <summary>Bubble temperature, for subcooling.</summary>
    /// <param name="absolutePressurePa">Pressure [Pa absolute].</param>
    /// <param name="kelvin">Bubble temperature [K], or NaN.</param>
    /// <returns>False if the pressure is outside <see cref="MinBubblePressurePa"/>…<see cref="MaxBubblePressurePa"/> or NaN.</returns>
    public bool TryBubbleTemperature(double absolutePressurePa, out double kelvin) => TryTemperature(_bubble, absolutePressurePa, out kelvin);

    /// <summary>Dew temperature, for superheat.</summary>
    /// <param name="absolutePressurePa">Pressure [Pa absolute], <see cref="MinDewPressurePa"/>…<see cref="MaxDewPressurePa"/>.</param>
    /// <returns>Dew temperature [K].</returns>
    /// <exception cref="ArgumentOutOfRangeException">Pressure outside the range; the message holds both.</exception>
    public double DewTemperature(double absolutePressurePa) =>
        _dew.Temperature(Bounds.Check(absolutePressurePa, _dew.MinPa, _dew.MaxPa, "Pa", nameof(absolutePressurePa)));

    /// <summary>Bubble temperature, for subcooling.</summary>
    /// <param name="absolutePressurePa">Pressure [Pa absolute], <see cref="MinBubblePressurePa"/>…<see cref="MaxBubblePressurePa"/>.</param>
    /// <returns>Bubble temperature [K].</returns>
    /// <exception cref="ArgumentOutOfRangeException">Pressure outside the range; the message holds both.</exception>
    public double BubbleTemperature(double absolutePressurePa) =>
        _bubble.Temperature(Bounds.Check(absolutePressurePa, _bubble.MinPa, _bubble.MaxPa, "Pa", nameof(absolutePressurePa)));

    /// <summary>Dew pressure.</summary>
    /// <param name="kelvin">Temperature [K], <see cref="MinTemperatureK"/>…<see cref="MaxTemperatureK"/>.</param>
    /// <returns>Pressure [Pa absolute].</returns>
    /// <exception cref="ArgumentOutOfRangeException">Temperature outside the range; the message holds both.</exception>
    public double DewPressure(double kelvin) => _dew.Pressure(Bounds.Check(kelvin, MinTemperatureK, MaxTemperatureK, "K", nameof(kelvin)));

    /// <summary>Bubble pressure.</summary>
    /// <param name="kelvin">Temperature [K], <see cref="MinTemperatureK"/>…<see cref="MaxTemperatureK"/>.</param>
    /// <returns>Pressure [Pa absolute].</returns>
    /// <exception cref="ArgumentOutOfRangeException">Temperature outside the range; the message holds both.</exception>
    public double BubblePressure(double kelvin) => _bubble.Pressure(Bounds.Check(kelvin, MinTemperatureK, MaxTemperatureK, "K", nameof(kelvin)));

    /// <summary>Dew temperatures of a column.</summary>
    /// <param name="absolutePressurePa">Pressures [Pa absolute], n values.</param>
    /// <param name="kelvin">Receives n dew temperatures [K]; NaN where the pressure is NaN or out of range.</param>
    /// <exception cref="ArgumentException">Spans of different lengths.</exception>
    public void DewTemperatures(ReadOnlySpan<double> absolutePressurePa, Span<double> kelvin) => Temperatures(_dew, absolutePressurePa, kelvin);

    /// <summary>Bubble temperatures of a column.</summary>
    /// <param name="absolutePressurePa">Pressures [Pa absolute], n values.</param>
    /// <param name="kelvin">Receives n bubble temperatures [K]; NaN where the pressure is NaN or out of range.</param>
    /// <exception cref="ArgumentException">Spans of different lengths.</exception>
    public void BubbleTemperatures(ReadOnlySpan<double> absolutePressurePa, Span<double> kelvin) => Temperatures(_bubble, absolutePressurePa, kelvin);

    /// <summary>The designation.</summary>
    public override string ToString() => Designation;

    private static bool TryTemperature(SaturationCurve curve, double pascal, out double kelvin)
    {
        bool inside = Bounds.Holds(pascal, curve.MinPa, curve.MaxPa);
        kelvin = inside ? curve.Temperature(pascal) : double.NaN;
        return inside;
    }

    private static void Temperatures(SaturationCurve curve, ReadOnlySpan<double> pascal, Span<double> kelvin)
    {
        if (pascal.Length != kelvin.Length)
            throw new ArgumentException($"A column of {pascal.Length} pressures does not fit a result of {kelvin.Length} temperatures.");
        for (int i = 0; i < pascal.Length; i++) TryTemperature(curve, pascal[i], out kelvin[i]);
    }
}
