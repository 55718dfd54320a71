using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>What a correction should change, by the equipment model: the numbers to look for 10 to 15 minutes later.</summary>
/// <param name="Correction">What is done.</param>
/// <param name="AirflowAfter">Airflow after it, over that of a sound system.</param>
/// <param name="Shift">What moves.</param>
/// <param name="SplitF">Temperature split to look for [°F difference]; NaN where it was not measured.</param>
/// <param name="SuctionPsig">Suction pressure to look for [psig]; NaN where it was not measured.</param>
/// <param name="LiquidPsig">Liquid pressure to look for [psig].</param>
/// <param name="SuperheatF">Superheat to look for [°F difference].</param>
/// <param name="SubcoolingF">Subcooling to look for [°F difference].</param>
public sealed record CorrectionForecast(
    string Correction, double AirflowAfter, EquipmentShift Shift, double SplitF, double SuctionPsig, double LiquidPsig, double SuperheatF, double SubcoolingF)
{
    /// <summary>The correction a finding proposes; null where it proposes none that the model can follow. What a tap gives is common practice, no source.</summary>
    public static CorrectionForecast? Of(in ReadingInputs x, MetricSet m, Judgement judged)
    {
        if (!m.Sound.Known || double.IsNaN(judged.Severity))
        {
            return null;
        }

        var s = judged.Severity;
        var charge = judged.ChargeBeside switch
        {
            "charge_low" => 0.85,
            "charge_high" => 1.15,
            _ => 1.0,
        };
        (string Correction, Faults Now, Faults Then)? change = judged.Finding switch
        {
            "airflow_high" => ("blower tap down until airflow is at design (one tap is some 15 to 25 %)", new(AirflowRatio: 1 + s, ChargeRatio: charge), new(ChargeRatio: charge)),
            "airflow_low" => ("airflow brought up to design", new(AirflowRatio: 1 - s, ChargeRatio: charge), new(ChargeRatio: charge)),
            "charge_low" => ("charge brought up to target", new(ChargeRatio: 1 - s), Faults.None),
            "charge_high" => ("charge brought down to target", new(ChargeRatio: 1 + s), Faults.None),
            "liquid_restriction" => ("restriction removed", new(Restriction: s), Faults.None),
            "condenser_airflow_low" => ("outdoor air restored", new(OutdoorAirRatio: 1 - s), Faults.None),
            "noncondensables" => ("evacuated and charged by weight", new(NonCondensables: s), Faults.None),
            _ => null,
        };
        var equipment = m.Equipment!.Equipment with { AirflowScfmPerTon = Math.Clamp(m.ScfmPerTon, 150, 700) };
        if (change is not { } c || !EquipmentModel.WhatIf(m.Conditions, equipment, c.Now, c.Then, out var shift))
        {
            return null;
        }

        var barometer = Units.StandardBarometerPascal(m.Conditions.ElevationFt * Units.MetrePerFoot);
        var fluid = equipment.Refrigerant;
        double Psig(double pa) => (pa - barometer) / Units.PascalPerPsi;
        var (suction, liquid) = (m[MetricId.Evaporating].Value + shift.EvaporatingF, m[MetricId.Condensing].Value + shift.CondensingF);
        return new(
            c.Correction, c.Then.AirflowRatio, shift,
            m[MetricId.Split].Value + shift.TemperatureSplitF,
            double.IsNaN(suction) ? double.NaN : Psig(fluid.DewPressure(Units.KelvinFromFahrenheit(Math.Clamp(suction, -30, 140)))),
            double.IsNaN(liquid) ? double.NaN : Psig(fluid.BubblePressure(Units.KelvinFromFahrenheit(Math.Clamp(liquid, -30, 148)))),
            Math.Max(0, m[MetricId.Superheat].Value + shift.SuperheatF),
            Math.Max(0, m[MetricId.Subcooling].Value + shift.SubcoolingF));
    }
}
