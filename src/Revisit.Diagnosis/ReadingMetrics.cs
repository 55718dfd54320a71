using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>
/// Metrics of one reading: a pure function of what was measured and what is known of the install. Each metric comes with a standard
/// uncertainty from <see cref="InstrumentAccuracy"/>, to first order and with instruments taken as independent, or with the reason
/// why it is missing. Gauge pressure is over the local barometer: standard pressure at the site's elevation, sea level where that is
/// not known (then with a wide barometer uncertainty).
/// </summary>
public static class ReadingMetrics
{
    private const double StandardAirLbFt3 = 0.075;

    /// <summary>Computes every metric.</summary>
    /// <param name="x">The reading; numbers inside the ranges of the nomenclature.</param>
    /// <param name="m">Filled; whatever it held is replaced.</param>
    public static void Compute(in ReadingInputs x, MetricSet m)
    {
        var elevationKnown = !double.IsNaN(x.Elevation);
        var barometer = MoistAir.StandardPressure(elevationKnown ? x.Elevation * Units.MetrePerFoot : 0);
        var barometerSd = InstrumentAccuracy.BarometerSdPsi(elevationKnown) * Units.PascalPerPsi;
        var air = AirMetrics.ReturnAir(x, barometer, barometerSd, m);
        Expect(x, m);
        Saturation(x, barometer, barometerSd, m);
        Circuit(x, m);
        AirMetrics.Split(x, barometer, m);
        AirMetrics.Capacity(x, air, barometer, m);
    }

    private static void Expect(in ReadingInputs x, MetricSet m)
    {
        m.Sound = ExpectedReading.None;
        var air = m[MetricId.AirDensity];
        if (!air.Has || double.IsNaN(x.OutdoorDb))
        {
            return;
        }

        m.Equipment = x.Equipment ?? SoundSystem.Of(x);
        m.Conditions = new(x.OutdoorDb, x.ReturnDb, m[MetricId.ReturnWetBulb].Value, double.IsNaN(x.Elevation) ? 0 : x.Elevation);
        var design = x.DesignAirflow / x.NominalTons;
        m.ScfmPerTon = Math.Clamp(double.IsNaN(design) ? SoundSystem.AirflowPerTon : design, 200, 650) * air.Value / StandardAirLbFt3;
        m.Sound = m.Equipment.Expected(m.Conditions, m.ScfmPerTon);
    }

    private static void Saturation(in ReadingInputs x, double barometer, double barometerSd, MetricSet m)
    {
        var refrigerant = x.Fluid ?? (Refrigerants.TryFind(x.Refrigerant, out var found) ? found : null);
        var unknown = refrigerant is not null ? null : x.Refrigerant is null ? "refrigerant missing" : $"refrigerant {x.Refrigerant} unknown";

        if ((unknown ?? (double.IsNaN(x.SuctionPressure) ? "suction_pressure_psig missing" : null)) is { } noDew)
        {
            m.Lack(MetricId.Evaporating, noDew);
        }
        else
        {
            var pressure = Units.AbsolutePascal(x.SuctionPressure, barometer);
            var sd = Spread.Root(InstrumentAccuracy.PressureSdPsi(x.SuctionPressure) * Units.PascalPerPsi, barometerSd);
            if (refrigerant!.TryDewTemperature(pressure, out var kelvin) && (refrigerant.TryDewTemperature(pressure + sd, out var shifted) || refrigerant.TryDewTemperature(pressure - sd, out shifted)))
            {
                m.Set(MetricId.Evaporating, Units.FahrenheitFromKelvin(kelvin), Math.Abs(shifted - kelvin) * 1.8);
            }
            else
            {
                m.Lack(MetricId.Evaporating, $"suction pressure outside the data of {refrigerant.Designation}");
            }
        }

        if ((unknown ?? (double.IsNaN(x.LiquidPressure) ? "liquid_pressure_psig missing" : null)) is { } noBubble)
        {
            m.Lack(MetricId.Condensing, noBubble);
        }
        else
        {
            var pressure = Units.AbsolutePascal(x.LiquidPressure, barometer);
            var sd = Spread.Root(InstrumentAccuracy.PressureSdPsi(x.LiquidPressure) * Units.PascalPerPsi, barometerSd);
            if (refrigerant!.TryBubbleTemperature(pressure, out var kelvin) && (refrigerant.TryBubbleTemperature(pressure + sd, out var shifted) || refrigerant.TryBubbleTemperature(pressure - sd, out shifted)))
            {
                m.Set(MetricId.Condensing, Units.FahrenheitFromKelvin(kelvin), Math.Abs(shifted - kelvin) * 1.8);
            }
            else
            {
                m.Lack(MetricId.Condensing, $"liquid pressure outside the data of {refrigerant.Designation}");
            }
        }

        if (double.IsNaN(x.SuctionPressure) || double.IsNaN(x.LiquidPressure))
        {
            m.Lack(MetricId.CompressionRatio, double.IsNaN(x.SuctionPressure) ? "suction_pressure_psig missing" : "liquid_pressure_psig missing");
        }
        else
        {
            var low = Units.AbsolutePascal(x.SuctionPressure, barometer);
            var high = Units.AbsolutePascal(x.LiquidPressure, barometer);
            var lowShare = InstrumentAccuracy.PressureSdPsi(x.SuctionPressure) * Units.PascalPerPsi / low;
            var highShare = InstrumentAccuracy.PressureSdPsi(x.LiquidPressure) * Units.PascalPerPsi / high;
            var common = barometerSd * Math.Abs(1 / high - 1 / low);
            m.Set(MetricId.CompressionRatio, high / low, high / low * Spread.Root(lowShare, highShare, common));
        }
    }

    private static void Circuit(in ReadingInputs x, MetricSet m)
    {
        const double Line = InstrumentAccuracy.ThermometerSdF;
        Difference(m, MetricId.Superheat, Reading(x.SuctionLine, Line, "suction_line_f missing"), m[MetricId.Evaporating]);
        Difference(m, MetricId.Subcooling, m[MetricId.Condensing], Reading(x.LiquidLine, Line, "liquid_line_f missing"));

        var target = TargetSuperheat.Of(x, m[MetricId.ReturnWetBulb]);
        if (target.Has)
        {
            m.Set(MetricId.TargetSuperheat, target.Value, target.Sd);
        }
        else
        {
            m.Lack(MetricId.TargetSuperheat, target.Missing!);
        }

        Difference(m, MetricId.SuperheatError, m[MetricId.Superheat], m[MetricId.TargetSuperheat]);
        Difference(m, MetricId.SubcoolingError, m[MetricId.Subcooling], Reading(x.TargetSubcooling, 0, "target_subcooling_f missing"));
        Difference(m, MetricId.CondensingOverOutdoor, m[MetricId.Condensing], Reading(x.OutdoorDb, Line, "outdoor_db_f missing"));
        Difference(m, MetricId.LiquidOverOutdoor, Reading(x.LiquidLine, Line, "liquid_line_f missing"), Reading(x.OutdoorDb, Line, "outdoor_db_f missing"));
        Difference(m, MetricId.FreezeMargin, m[MetricId.Evaporating], new Metric(32, 0, null));
    }

    internal static Metric Reading(double value, double sd, string missing) => double.IsNaN(value) ? Metric.Because(missing) : new(value, sd, null);

    internal static void Difference(MetricSet m, MetricId id, in Metric a, in Metric b)
    {
        if (!a.Has || !b.Has)
        {
            m.Lack(id, (a.Has ? b : a).Missing!);
        }
        else
        {
            m.Set(id, a.Value - b.Value, Spread.Root(a.Sd, b.Sd));
        }
    }
}
