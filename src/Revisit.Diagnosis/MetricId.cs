using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>The metrics, in the order of <see cref="Tables.MetricColumns"/>; a test holds the two together.</summary>
public enum MetricId
{
    Evaporating, Condensing, Superheat, TargetSuperheat, SuperheatError, Subcooling, SubcoolingError,
    ReturnWetBulb, ReturnHumidity, Split, ExpectedSplit, SplitError, CondensingOverOutdoor, LiquidOverOutdoor, CompressionRatio,
    HumidityRatio, Enthalpy, DewPoint, AirDensity,
    ImpliedAirflow, MeasuredAirflow, SensibleCapacity, TotalCapacity, CapacityRatio, FreezeMargin,
}
