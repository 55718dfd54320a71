namespace Revisit.Simulator;

/// <summary>
/// One reading as the plain row holds it. A number that was not taken is NaN, a text null; names and units as in the nomenclature.
/// <see cref="Truth"/> is what only the simulator knows.
/// </summary>
public sealed class SimulatedReading
{
    public required string VisitId { get; init; }
    public required int ReadingNo { get; init; }
    public required string InstallId { get; init; }
    public required string CrewId { get; init; }
    public required string VisitKind { get; init; }

    /// <summary>UTC.</summary>
    public required DateTime VisitedAt { get; init; }

    public required string TechnicianId { get; init; }
    public required InstallSheet Install { get; init; }
    public required string Phase { get; init; }
    public double MinutesRunning { get; set; } = double.NaN;
    public string? BlowerTap { get; set; }
    public string? FilterState { get; set; }
    public double OutdoorDbF { get; set; } = double.NaN;
    public double ReturnDbF { get; set; } = double.NaN;
    public double ReturnWbF { get; set; } = double.NaN;
    public double ReturnRhPct { get; set; } = double.NaN;
    public double SupplyDbF { get; set; } = double.NaN;
    public double SupplyWbF { get; set; } = double.NaN;
    public double SupplyRhPct { get; set; } = double.NaN;
    public double SuctionPressurePsig { get; set; } = double.NaN;
    public double LiquidPressurePsig { get; set; } = double.NaN;
    public double SuctionLineF { get; set; } = double.NaN;
    public double LiquidLineF { get; set; } = double.NaN;
    public double DischargeLineF { get; set; } = double.NaN;
    public double ExternalStaticInwc { get; set; } = double.NaN;
    public double ReturnStaticInwc { get; set; } = double.NaN;
    public double SupplyStaticInwc { get; set; } = double.NaN;
    public double AirflowCfm { get; set; } = double.NaN;
    public string? AirflowMethod { get; set; }
    public double SystemPowerW { get; set; } = double.NaN;
    public double BlowerPowerW { get; set; } = double.NaN;
    public string? Correction { get; set; }
    public string? CorrectionFrom { get; set; }
    public string? CorrectionTo { get; set; }
    public double ChargeChangeOz { get; set; } = double.NaN;
    public string? Notes { get; set; }

    /// <summary>UTC.</summary>
    public required DateTime SavedAt { get; init; }

    /// <summary>What was true while the reading was taken.</summary>
    public ReadingTruth Truth { get; internal set; } = new(1, 1, 1, "none", 0, "none", 0, false, false, false);
}

/// <summary>The description of an install that each of its rows repeats; units as in the nomenclature, NaN where there is none.</summary>
public sealed record InstallSheet(
    DateOnly InstalledOn, double NominalTons, double RatedCoolingBtuh, double RatedEer, string Refrigerant, string Metering, double TargetSubcoolingF,
    double TargetSuperheatF, double LineSetFt, string BlowerMotor, string DuctLocation, string IndoorUnit, string OutdoorUnit, double DesignAirflowCfm,
    int SupplyRuns, string Region, double ElevationFt, double Latitude, double Longitude);

/// <summary>The truth of a system while a reading was taken.</summary>
/// <param name="AirflowRatio">Volume airflow over 400 cfm per ton, 1.</param>
/// <param name="AirflowOverDesign">Volume airflow over the design airflow of the unit, which its records give, 1.</param>
/// <param name="ChargeRatio">Charge over right charge, 1.</param>
/// <param name="OtherFault">A code of the findings, or "none".</param>
/// <param name="OtherSeverity">Its severity as the equipment model counts it, 0 to 0.6.</param>
/// <param name="Causes">Every cause beyond the simulator's own line, joined by +, or "none".</param>
/// <param name="CapacityLossPct">Capacity lost at 95 °F outdoors, 80/67 °F indoors and the site's elevation, against the same unit without its faults [%]; 100 where it would cut out.</param>
/// <param name="Faulty">Airflow outside 300…500 cfm per ton, charge outside ±15 %, or another fault.</param>
/// <param name="Clean">Steady, with every core value taken and written as measured.</param>
/// <param name="Copied">Written from an earlier sheet, not read.</param>
public sealed record ReadingTruth(double AirflowRatio, double AirflowOverDesign, double ChargeRatio, string OtherFault, double OtherSeverity, string Causes, double CapacityLossPct, bool Faulty, bool Clean, bool Copied);

/// <summary>The truth of an install at start-up, and what became of it.</summary>
/// <param name="InstallId">The install.</param>
/// <param name="CrewId">The crew that installed it.</param>
/// <param name="AtStart">True state on the first day.</param>
/// <param name="FirstFollowUpKind">Kind of the first visit after commissioning, null if none lies within the records.</param>
/// <param name="CheckDrawn">Drawn for a planned quality check, whether or not it lies within the records or another visit came first.</param>
public sealed record InstallTruth(string InstallId, string CrewId, ReadingTruth AtStart, string? FirstFollowUpKind, bool CheckDrawn);
