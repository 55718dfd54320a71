namespace Revisit.Diagnosis;

/// <summary>
/// What is known about one reading and its install, in the units of the tables. A number not known is NaN, a text not known is null.
/// </summary>
public struct ReadingInputs
{
    public ReadingInputs()
    {
    }

    public string? Refrigerant = null;
    /// <summary>The refrigerant already looked up, where many readings share it; else it is looked up by name.</summary>
    public Physics.Refrigerant? Fluid = null;

    /// <summary>The class of equipment already looked up, where many readings share it; else it is looked up.</summary>
    public SoundSystem? Equipment = null;

    /// <summary>The class the fleet learns by, already named, where many readings share it; see <see cref="FleetExpectation"/>.</summary>
    internal string? FleetClass = null;

    public string? Metering = null;
    public string? FilterState = null;
    public string? AirflowMethod = null;

    /// <summary>[ft]</summary>
    public double Elevation = double.NaN;

    /// <summary>[ton of refrigeration]</summary>
    public double NominalTons = double.NaN;

    /// <summary>[Btu/h]</summary>
    public double RatedCooling = double.NaN;

    /// <summary>[Btu/(W·h)]</summary>
    public double RatedEer = double.NaN;

    /// <summary>[°F difference]</summary>
    public double TargetSubcooling = double.NaN;

    /// <summary>[°F difference]</summary>
    public double TargetSuperheat = double.NaN;

    /// <summary>[cfm]</summary>
    public double DesignAirflow = double.NaN;

    /// <summary>[min]</summary>
    public double MinutesRunning = double.NaN;

    /// <summary>[°F]</summary>
    public double OutdoorDb = double.NaN;

    /// <summary>[°F]</summary>
    public double ReturnDb = double.NaN;

    /// <summary>[°F]</summary>
    public double ReturnWb = double.NaN;

    /// <summary>[%]</summary>
    public double ReturnRh = double.NaN;

    /// <summary>[°F]</summary>
    public double SupplyDb = double.NaN;

    /// <summary>[°F]</summary>
    public double SupplyWb = double.NaN;

    /// <summary>[%]</summary>
    public double SupplyRh = double.NaN;

    /// <summary>[psig]</summary>
    public double SuctionPressure = double.NaN;

    /// <summary>[psig]</summary>
    public double LiquidPressure = double.NaN;

    /// <summary>[°F]</summary>
    public double SuctionLine = double.NaN;

    /// <summary>[°F]</summary>
    public double LiquidLine = double.NaN;

    /// <summary>[°F]</summary>
    public double DischargeLine = double.NaN;

    /// <summary>[cfm]</summary>
    public double Airflow = double.NaN;

    /// <summary>[in. w.c.]</summary>
    public double ExternalStatic = double.NaN;

    /// <summary>Whether the metering device is a valve that holds superheat (TXV or EEV).</summary>
    public readonly bool HasValve => Metering is "txv" or "eev";

    /// <summary>Whether the metering device is a fixed orifice.</summary>
    public readonly bool HasOrifice => Metering is "fixed_orifice";
}
