using System.Globalization;
using Revisit.Physics;

namespace Revisit.Simulator;

/// <summary>Draws an install and what its crew's habits made of it.</summary>
internal static class InstallFactory
{
    private static readonly double[] Sizes = [1.5, 2, 2.5, 3, 3.5, 4, 5];
    private static readonly double[][] DuctWeights =
    [
        [0.45, 0.25, 0.08, 0.07, 0.15], [0.20, 0.30, 0.35, 0.05, 0.10], [0.15, 0.08, 0.60, 0.04, 0.13], [0.55, 0.15, 0.10, 0.10, 0.10],
    ];

    /// <summary>The work as it was sold: what the mix of the year and the branch makes of it. All weights are invented.</summary>
    private sealed record Job(Crew Crew, DateOnly Day, double Tons, string Refrigerant, string Metering, string Motor, string Ducts, double LineFt)
    {
        public bool FixedOrifice => Metering == "fixed_orifice";
    }

    /// <summary>What was made of it: settings, and the scores that give airflow and charge.</summary>
    private sealed record Work(int FittingTap, int Tap, double Ducts, int Filter, double AirflowScore, double ChargeScore);

    /// <summary>Install number <paramref name="no"/> of the fleet, from 1; a pure function of settings and number.</summary>
    public static Install Draw(SimulatorSettings settings, FieldErrors errors, int no)
    {
        var rng = new Rng(settings.Seed, no, 1);
        var job = DrawJob(settings, rng);
        var work = DrawWork(settings, rng, job);
        var branch = Scenario.Branches[job.Crew.Branch];
        var airHandler = rng.Chance(job.Ducts is "attic" or "indoors" ? 0.6 : 0.25);
        var target = job.FixedOrifice ? double.NaN : 8 + rng.Below(6);
        var eer = Math.Round(rng.Between(10.8, 13.2) + 0.3 * Scenario.Years(job.Day), 1);
        return new Install
        {
            No = no,
            Id = string.Create(CultureInfo.InvariantCulture, $"{branch.Letter}-{no:000000}"),
            Branch = branch,
            Crew = job.Crew,
            InstalledOn = job.Day,
            Tons = job.Tons,
            Refrigerant = job.Refrigerant,
            Metering = job.Metering,
            TargetSubcooling = target,
            LineSetFt = job.LineFt,
            Motor = job.Motor,
            DuctLocation = job.Ducts,
            IndoorUnit = airHandler ? "air_handler" : "furnace_coil",
            OutdoorUnit = rng.Chance(airHandler ? 0.75 : 0.1) ? "heat_pump" : "air_conditioner",
            DesignCfm = Math.Round(job.Tons * rng.Between(365, 405) / 25) * 25,
            SupplyRuns = Math.Max(4, (int)Math.Round(job.Tons * rng.Between(2.6, 4.4))),
            RatedBtuh = Math.Round(job.Tons * 12_000 * rng.Between(0.95, 1.0) / 200) * 200,
            RatedEer = eer,
            ElevationFt = Math.Round(branch.ElevationFt + Math.Abs(rng.Normal(0, 0.04 * branch.ElevationFt + 10))),
            Latitude = Math.Round(branch.Latitude + rng.Normal(0, 0.12), 4),
            Longitude = Math.Round(branch.Longitude + rng.Normal(0, 0.15), 4),
            Equipment = new Equipment(
                Circuit.Find(job.Refrigerant), job.FixedOrifice ? Metering.FixedOrifice : Metering.Txv, job.Tons, Math.Clamp(eer * Spread(rng, 0.04), 8, 18), job.FixedOrifice ? 10 : target),
            Own = DrawVariation(rng, job.FixedOrifice),
            BlowerHeatF = 0.365 * 3.412 / 1.08 * Spread(rng, 0.12),
            State = FirstState(settings, rng, errors, job, work),
        };
    }

    /// <summary>The scores of an install, by which <see cref="FieldErrors"/> ranks it.</summary>
    public static (double Airflow, double Charge) Scores(SimulatorSettings settings, int no)
    {
        var rng = new Rng(settings.Seed, no, 1);
        var work = DrawWork(settings, rng, DrawJob(settings, rng));
        return (work.AirflowScore, work.ChargeScore);
    }

    private static Job DrawJob(SimulatorSettings settings, Rng rng)
    {
        var crew = Scenario.Crews[rng.Weighted(Scenario.CrewWeights)];
        var day = StartUpDay(settings, rng);
        var years = Scenario.Years(day);
        var small = 0.02 * Math.Min(3, years); // newer houses need less
        var tons = Sizes[rng.Weighted([0.08 + small, 0.18 + small, 0.20, 0.22, 0.14 - small, 0.11, 0.07 - 0.5 * small])];
        var refrigerant = rng.Chance(Scenario.ShareR410A(day)) ? "R-410A" : rng.Chance(2.0 / 3) ? "R-454B" : "R-32";
        var metering = rng.Weighted(refrigerant == "R-410A" ? [0.62, 0.10, 0.28] : [0.72, 0.15 + 0.03 * years, 0.10]) switch { 0 => "txv", 1 => "eev", _ => "fixed_orifice" };
        var motor = rng.Weighted([Math.Max(0.1, 0.28 - 0.04 * years), 0.45, 0.28 + 0.04 * years]) switch { 0 => "psc", 1 => "constant_torque", _ => "constant_airflow" };
        var ducts = Records.Codes.DuctLocation[rng.Weighted(DuctWeights[crew.Branch])];
        return new Job(crew, day, tons, refrigerant, metering, motor, ducts, Math.Round(Math.Clamp(Math.Exp(rng.Normal(3.45, 0.45)), 12, 110)));
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

    /// <summary>Weights of habits in the scores are invented: a step of the tap counts 0.8 of a spread, a habit of charge 1 to 2.</summary>
    private static Work DrawWork(SimulatorSettings settings, Rng rng, Job job)
    {
        var crew = job.Crew;
        var habit = settings.HabitStrength * crew.Keeping(job.Day, settings.FirstDay);
        var care = 1 + settings.HabitStrength * (crew.Care - 1);
        var fitting = 1 + rng.Below(2) + (job.Tons >= 3.5 ? 1 : 0);
        var tap = Math.Clamp(fitting + rng.Weighted([0.10, 0.76, 0.14]) - 1, 0, SystemState.Taps.Length - 1);
        if (job.Tons <= 2.5 && rng.Chance(crew.TapHighOnSmall * habit))
            tap = Math.Min(SystemState.Taps.Length - 1, fitting + 2);
        var ducts = Math.Exp(rng.Normal(0, 0.18 * care) + (job.Ducts is "attic" or "crawlspace" ? 0.12 : 0) + (rng.Chance(0.10) ? 0.5 : 0));
        var filter = rng.Chance(crew.FilterLeft * settings.HabitStrength) ? 2 : rng.Weighted([0.86, 0.10, 0.01, 0.03]);
        var airflow = Math.Log(SystemState.Giving(tap - fitting, filter, ducts, SystemState.YieldingOf(job.Motor))) / 0.16 + rng.Normal(0.9 * (1 - care), 0.8 * care);

        var charge = rng.Normal(0, care);
        if (job.LineFt > 25 && rng.Chance(crew.LongLineShort * habit))
            charge -= 0.7 + 0.6 * (job.LineFt - 15) / (34 * job.Tons + 0.6 * (job.LineFt - 15)) / 0.1;
        if (job.FixedOrifice && rng.Chance(crew.OrificeBySubcooling * habit))
            charge += rng.Between(1, 2);
        if (rng.Chance(crew.ChargeByPressure * habit))
            charge += Math.Clamp((82 - Scenario.Branches[crew.Branch].Climate.OutdoorF(job.Day, 12.5)) / 8, -2, 2);
        return new Work(fitting, tap, ducts, filter, airflow, charge);
    }

    private static SystemState FirstState(SimulatorSettings settings, Rng rng, FieldErrors errors, Job job, Work work)
    {
        var other = OtherFault.None;
        var severity = 0.0;
        if (rng.Chance(settings.OtherFaultShare))
        {
            other = (OtherFault)(1 + rng.Weighted([0.3, 0.25, 0.25, 0.12, 0.08]));
            severity = other switch
            {
                OtherFault.CondenserAirflowLow => rng.Between(0.2, 0.5),
                OtherFault.ValveLeak or OtherFault.EfficiencyLoss => rng.Between(0.1, 0.3),
                _ => rng.Between(0.2, 0.6),
            };
        }

        var yielding = SystemState.YieldingOf(job.Motor);
        return new SystemState
        {
            FittingTap = work.FittingTap,
            Tap = work.Tap,
            AtFittingTap = errors.AirflowRatio(work.AirflowScore) / SystemState.Giving(work.Tap - work.FittingTap, work.Filter, work.Ducts, yielding),
            Yielding = yielding,
            Ducts = work.Ducts,
            Filter = work.Filter,
            Charge = errors.ChargeRatio(work.ChargeScore),
            Other = other,
            Severity = severity,
        };
    }

    /// <summary>How far a unit is from the model's usual one; invented, about what two makes of one rating differ.</summary>
    private static EquipmentVariation DrawVariation(Rng rng, bool fixedOrifice) => new(
        EvaporatingF: rng.Normal(0, 1.2), CondensingF: rng.Normal(0, 1.6), SuperheatF: Math.Clamp(rng.Normal(0, fixedOrifice ? 2 : 1.5), -4, 4),
        IndoorUnits: Spread(rng, 0.06), OutdoorUnits: Spread(rng, 0.06), LiquidShare: Spread(rng, 0.10), EfficiencyCurve: Spread(rng, 0.10));

    private static double Spread(Rng rng, double sd) => Math.Exp(Math.Clamp(rng.Normal(0, sd), -2.5 * sd, 2.5 * sd));
}
