namespace Revisit.Physics;

/// <summary>Properties of one refrigerant at one pressure.</summary>
/// <remarks>
/// Temperatures [K], densities [kg/m³], enthalpies [J/kg]. Superheated vapour at ΔT over the dew temperature: volume [m³/kg] and
/// enthalpy are the dew value + slope·ΔT + bend·15 K·(1 − e^(−ΔT/15 K)), through the tabulated values at 0, 15 and 60 K.
/// </remarks>
internal struct CycleNode
{
    public double BubbleK, DewK, LiquidDensity, VapourDensity, BubbleEnthalpy, DewEnthalpy, LiquidHeat;
    public double VolumeSlope, VolumeBend, EnthalpySlope, EnthalpyBend;

    /// <summary>Vapour over liquid density to the 2/3: over the velocity ratio of void fraction by S. M. Zivi, J. Heat Transfer 86 (1964) 247-252.</summary>
    public double Slip;

    public const double BendK = 15.0;

    public readonly double Glide => DewK - BubbleK;

    /// <summary>Heat capacity of vapour just over the dew temperature [J/(kg K)].</summary>
    public readonly double VapourHeat => EnthalpySlope + EnthalpyBend;

    public readonly double Latent => DewEnthalpy - BubbleEnthalpy;

    public readonly double SuperheatedEnthalpy(double kelvin) => SuperheatedEnthalpy(kelvin, Bend(kelvin));

    public readonly double SuperheatedEnthalpy(double kelvin, double bend) => DewEnthalpy + EnthalpySlope * kelvin + EnthalpyBend * bend;

    public readonly double SuperheatedVolume(double kelvin) => SuperheatedVolume(kelvin, Bend(kelvin));

    public readonly double SuperheatedVolume(double kelvin, double bend) => 1.0 / VapourDensity + VolumeSlope * kelvin + VolumeBend * bend;

    /// <summary>Superheat [K] of vapour of an enthalpy, by Newton; 0 for wet vapour.</summary>
    public readonly double Superheat(double enthalpy)
    {
        if (enthalpy <= DewEnthalpy) return 0.0;
        double kelvin = (enthalpy - DewEnthalpy) / (EnthalpySlope + EnthalpyBend);
        for (int i = 0; i < 8; i++)
        {
            double fade = Math.Exp(-kelvin / BendK);
            double step = (SuperheatedEnthalpy(kelvin, BendK * (1.0 - fade)) - enthalpy) / (EnthalpySlope + EnthalpyBend * fade);
            kelvin -= step;
            if (Math.Abs(step) < 1e-6) break;
        }

        return kelvin;
    }

    /// <summary>The bent part of a superheat, given to both of the above where both are asked.</summary>
    public static double Bend(double kelvin) => BendK * (1.0 - Math.Exp(-kelvin / BendK));
}

/// <summary>
/// Properties of one refrigerant by ln p: 640 intervals, linear between them, and straight on beyond the ends so that a solver's trial
/// step outside does no harm. Measured between the rows against the equations: temperatures within 1e−4 K to 150 °F and 4e−4 K beyond,
/// densities within 0.002 % and 0.06 %.
/// </summary>
internal sealed class CycleProperties
{
    private const int Intervals = 640, Fields = 12;
    private const double LiquidStepK = 0.5;
    private readonly double _low, _inverseStep;
    private readonly double[] _nodes = new double[(Intervals + 1) * Fields];
    private readonly double _coldest;
    private readonly int _liquidIntervals;
    private readonly double[] _liquid;

    /// <param name="kelvin">Saturation temperatures of the rows [K], rising.</param>
    /// <param name="bubblePa">Bubble pressures [Pa].</param>
    /// <param name="dewPa">Dew pressures [Pa].</param>
    /// <param name="columns">The columns of <c>properties.csv</c> after the temperature.</param>
    /// <param name="minPa">Pressure of the first node [Pa].</param>
    /// <param name="maxPa">Pressure of the last node [Pa].</param>
    public CycleProperties(double[] kelvin, double[] bubblePa, double[] dewPa, double[][] columns, double minPa, double maxPa)
    {
        double[] logBubble = [.. bubblePa.Select(p => Math.Log(p))], logDew = [.. dewPa.Select(p => Math.Log(p))];
        _low = Math.Log(minPa);
        double step = (Math.Log(maxPa) - _low) / Intervals;
        _inverseStep = 1.0 / step;
        double e1 = CycleNode.BendK * (1.0 - Math.Exp(-1.0)), e4 = CycleNode.BendK * (1.0 - Math.Exp(-4.0));
        for (int i = 0; i <= Intervals; i++)
        {
            double logP = _low + i * step;
            double dewDensity = Interpolate(logDew, columns[1], logP), dewEnthalpy = Interpolate(logDew, columns[3], logP);
            (double volumeSlope, double volumeBend) = Split(1.0 / dewDensity, columns[4], columns[6], logP);
            (double enthalpySlope, double enthalpyBend) = Split(dewEnthalpy, columns[5], columns[7], logP);
            double bubbleK = Interpolate(logBubble, kelvin, logP), bubbleEnthalpy = Interpolate(logBubble, columns[2], logP);
            double cooler = Interpolate(kelvin, columns[2], bubbleK - CoolerK);
            double liquidDensity = Interpolate(logBubble, columns[0], logP), root = Math.Cbrt(dewDensity / liquidDensity);
            double[] node =
            [
                bubbleK, Interpolate(logDew, kelvin, logP), liquidDensity, dewDensity, bubbleEnthalpy, dewEnthalpy,
                (bubbleEnthalpy - cooler) / CoolerK, volumeSlope, volumeBend, enthalpySlope, enthalpyBend, root * root,
            ];
            node.CopyTo(_nodes, i * Fields);
        }

        _coldest = kelvin[0];
        _liquidIntervals = (int)Math.Round((kelvin[^1] - _coldest) / LiquidStepK);
        _liquid = new double[2 * (_liquidIntervals + 1)];
        for (int i = 0; i <= _liquidIntervals; i++)
        {
            _liquid[2 * i] = Interpolate(kelvin, columns[0], _coldest + i * LiquidStepK);
            _liquid[2 * i + 1] = Interpolate(kelvin, columns[2], _coldest + i * LiquidStepK);
        }

        // Two equations a·15 + b·e1 = value(15) − dew, a·60 + b·e4 = value(60) − dew.
        (double Slope, double Bend) Split(double dew, double[] at15, double[] at60, double logP)
        {
            double d15 = Interpolate(logDew, at15, logP) - dew, d60 = Interpolate(logDew, at60, logP) - dew;
            double bend = (4.0 * d15 - d60) / (4.0 * e1 - e4);
            return ((d15 - bend * e1) / 15.0, bend);
        }
    }

    /// <summary>Subcooling over which the liquid's heat capacity is averaged [K].</summary>
    private const double CoolerK = 6.0;

    /// <summary>Properties at ln p [Pa].</summary>
    public void At(double logPa, out CycleNode node)
    {
        double position = (logPa - _low) * _inverseStep;
        int i = Math.Clamp((int)position, 0, Intervals - 1);
        double w = position - i;
        ReadOnlySpan<double> a = _nodes.AsSpan(i * Fields, 2 * Fields);
        node.BubbleK = a[0] + w * (a[12] - a[0]);
        node.DewK = a[1] + w * (a[13] - a[1]);
        node.LiquidDensity = a[2] + w * (a[14] - a[2]);
        node.VapourDensity = a[3] + w * (a[15] - a[3]);
        node.BubbleEnthalpy = a[4] + w * (a[16] - a[4]);
        node.DewEnthalpy = a[5] + w * (a[17] - a[5]);
        node.LiquidHeat = a[6] + w * (a[18] - a[6]);
        node.VolumeSlope = a[7] + w * (a[19] - a[7]);
        node.VolumeBend = a[8] + w * (a[20] - a[8]);
        node.EnthalpySlope = a[9] + w * (a[21] - a[9]);
        node.EnthalpyBend = a[10] + w * (a[22] - a[10]);
        node.Slip = a[11] + w * (a[23] - a[11]);
    }

    /// <summary>What a metering device asks at ln p [Pa].</summary>
    public void Inlet(double logPa, out double bubbleEnthalpy, out double dewEnthalpy, out double liquidHeat)
    {
        double position = (logPa - _low) * _inverseStep;
        int i = Math.Clamp((int)position, 0, Intervals - 1);
        double w = position - i;
        ReadOnlySpan<double> a = _nodes.AsSpan(i * Fields, 2 * Fields);
        bubbleEnthalpy = a[4] + w * (a[16] - a[4]);
        dewEnthalpy = a[5] + w * (a[17] - a[5]);
        liquidHeat = a[6] + w * (a[18] - a[6]);
    }

    /// <summary>Liquid at a temperature [K], taken as at its bubble point: density [kg/m³] and enthalpy [J/kg].</summary>
    public void Liquid(double kelvin, out double density, out double enthalpy)
    {
        double position = (kelvin - _coldest) / LiquidStepK;
        int i = Math.Clamp((int)position, 0, _liquidIntervals - 1);
        double w = position - i;
        density = _liquid[2 * i] + w * (_liquid[2 * i + 2] - _liquid[2 * i]);
        enthalpy = _liquid[2 * i + 1] + w * (_liquid[2 * i + 3] - _liquid[2 * i + 1]);
    }

    /// <summary>Four-point Lagrange interpolation.</summary>
    private static double Interpolate(double[] x, double[] y, double at)
    {
        int index = Array.BinarySearch(x, at);
        int first = Math.Clamp((index < 0 ? ~index : index) - 2, 0, x.Length - 4);
        double value = 0.0;
        for (int j = first; j < first + 4; j++)
        {
            double weight = y[j];
            for (int k = first; k < first + 4; k++)
                if (k != j) weight *= (at - x[k]) / (x[j] - x[k]);
            value += weight;
        }

        return value;
    }
}
