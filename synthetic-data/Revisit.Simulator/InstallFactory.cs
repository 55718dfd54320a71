using System.Globalization;

namespace Revisit.Simulator;

/// <summary>Draws an install and what its crew's habits made of it.</summary>
internal static class InstallFactory
{
    private static readonly double[] Sizes = [1.5, 2, 2.5, 3, 3.5, 4, 5];
    private static readonly double[] SizeWeights = [0.08, 0.18, 0.20, 0.22, 0.14, 0.11, 0.07];
    private static readonly double[][] DuctWeights =
    [
        [0.45, 0.25, 0.08, 0.07, 0.15], [0.20, 0.30, 0.35, 0.05, 0.10], [0.15, 0.08, 0.60, 0.04, 0.13], [0.55, 0.15, 0.10, 0.10, 0.10],
    ];

    /// <summary>Install number <paramref name="no"/> of the fleet, from 1; a pure function of settings and number.</summary>
    public static Install Draw(SimulatorSettings settings, int no)
    {
        var rng = new Rng(settings.Seed, no, 1);
        var crew = Scenario.Crews[rng.Weighted(Scenario.CrewWeights)];
        var branch = Scenario.Branches[crew.Branch];
        var day = StartUpDay(settings, rng);
        var tons = Sizes[rng.Weighted(SizeWeights)];
        var refrigerant = rng.Chance(Scenario.ShareR410A(day)) ? "R-410A" : rng.Chance(2.0 / 3) ? "R-454B" : "R-32";
        var metering = rng.Weighted(refrigerant == "R-410A" ? [0.62, 0.10, 0.28] : [0.72, 0.18, 0.10]) switch { 0 => "txv", 1 => "eev", _ => "fixed_orifice" };
        var motor = rng.Weighted([0.25, 0.45, 0.30]) switch { 0 => "psc", 1 => "constant_torque", _ => "constant_airflow" };
        var ducts = Records.Codes.DuctLocation[rng.Weighted(DuctWeights[crew.Branch])];
        var line = Math.Round(Math.Clamp(Math.Exp(rng.Normal(3.45, 0.45)), 12, 110));
        var airHandler = rng.Chance(ducts is "attic" or "indoors" ? 0.6 : 0.25);
        var fixedOrifice = metering == "fixed_orifice";
        return new Install
        {
            No = no,
            Id = string.Create(CultureInfo.InvariantCulture, $"{branch.Letter}-{no:000000}"),
            Branch = branch,
            Crew = crew,
            InstalledOn = day,
            Tons = tons,
            Refrigerant = refrigerant,
            Metering = metering,
            TargetSubcooling = fixedOrifice ? double.NaN : 8 + rng.Below(6),
            LineSetFt = line,
            Motor = motor,
            DuctLocation = ducts,
            IndoorUnit = airHandler ? "air_handler" : "furnace_coil",
            OutdoorUnit = rng.Chance(airHandler ? 0.75 : 0.1) ? "heat_pump" : "air_conditioner",
            DesignCfm = Math.Round(tons * rng.Between(365, 405) / 25) * 25,
            SupplyRuns = Math.Max(4, (int)Math.Round(tons * rng.Between(2.6, 4.4))),
            RatedBtuh = Math.Round(tons * 12_000 * rng.Between(0.95, 1.0) / 200) * 200,
            RatedEer = Math.Round(rng.Between(10.8, 13.2), 1),
            ElevationFt = Math.Round(branch.ElevationFt + Math.Abs(rng.Normal(0, 0.04 * branch.ElevationFt + 10))),
            Latitude = Math.Round(branch.Latitude + rng.Normal(0, 0.12), 4),
            Longitude = Math.Round(branch.Longitude + rng.Normal(0, 0.15), 4),
            Own = new Shift(rng.Normal(0, 0.8), rng.Normal(0, 1.3), rng.Normal(0, fixedOrifice ? 2.2 : 1.6), rng.Normal(0, 1.0), rng.Normal(0, 1.8), rng.Normal(0, 4), rng.Normal(0, 0.025)),
            State = FirstState(settings, rng, crew, day, tons, line, fixedOrifice, motor, ducts),
        };
    }

    private static DateOnly StartUpDay(SimulatorSettings settings, Rng rng)
    {
        var days = settings.LastDay.DayNumber - settings.FirstDay.DayNumber + 1;
        for (var tries = 0; tries < 200; tries++)
        {
            var day = settings.FirstDay.AddDays(rng.Below(days));
            var weekend = day.DayOfWeek is DayOfWeek.Sunday ? 0.02 : day.DayOfWeek is DayOfWeek.Saturday ? 0.3 : 1;
            if (rng.Chance(Scenario.StartUpsByMonth[day.Month - 1] / 2 * weekend))
                return day;
        }

        return settings.FirstDay.AddDays(rng.Below(days));
    }

    private static SystemState FirstState(SimulatorSettings settings, Rng rng, Crew crew, DateOnly day, double tons, double line, bool fixedOrifice, string motor, string ducts)
    {
        var habit = settings.HabitStrength * crew.Keeping(day);
        var fitting = 1 + rng.Below(2) + (tons >= 3.5 ? 1 : 0);
        var tap = fitting + rng.Weighted([0.10, 0.76, 0.14]) - 1;
        if (tons <= 2.5 && rng.Chance(crew.TapHighOnSmall * habit))
            tap = Math.Max(tap, fitting + 1 + rng.Below(2));
        var resistance = Math.Exp(rng.Normal(0, 0.18 * crew.Care) + (ducts is "attic" or "crawlspace" ? 0.12 : 0) + (rng.Chance(0.10) ? 0.5 : 0));

        var charge = rng.Normal(settings.ChargeCentre, settings.ChargeSpread * crew.Care);
        if (line > 25 && rng.Chance(crew.LongLineShort * habit))
            charge -= 0.6 * (line - 15) / (34 * tons + 0.6 * (line - 15));
        if (fixedOrifice && rng.Chance(crew.OrificeBySubcooling * habit))
            charge += rng.Between(0.06, 0.16);

        var other = OtherFault.None;
        var severity = 0.0;
        if (rng.Chance(settings.OtherFaultShare))
        {
            other = (OtherFault)(1 + rng.Weighted([0.3, 0.25, 0.3, 0.15]));
            severity = other switch
            {
                OtherFault.CondenserAirflowLow => rng.Between(0.2, 0.5),
                OtherFault.CompressorWeak => rng.Between(0.12, 0.3),
                _ => rng.Between(0.25, 0.6),
            };
        }

        return new SystemState
        {
            FittingTap = fitting,
            Tap = Math.Clamp(tap, 0, SystemState.Taps.Length - 1),
            AtFittingTap = Math.Clamp(rng.Normal(settings.AirflowCentre, settings.AirflowSpread), 0.6, 1.5),
            Yielding = motor switch { "psc" => 0.35, "constant_torque" => 0.25, _ => 0.05 },
            Ducts = resistance,
            Filter = rng.Chance(crew.FilterLeft * settings.HabitStrength) ? 2 : rng.Weighted([0.86, 0.10, 0.01, 0.03]),
            Charge = Math.Clamp(charge, 0.6, 1.35),
            Other = other,
            Severity = severity,
        };
    }
}
