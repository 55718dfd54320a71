namespace Revisit.Diagnosis;

/// <summary>One cause at one severity: how it moves each reading from what a sound system shows.</summary>
/// <param name="Cause">Index in <see cref="Signatures.Causes"/>.</param>
/// <param name="Severity">How far off, as a share.</param>
/// <param name="At82">Shift at 82 °F outdoors in the order of <see cref="Residual"/>; °F difference, airflow as a share.</param>
/// <param name="At95">The same at 95 °F outdoors.</param>
/// <param name="CapacityChange82">Change of cooling capacity as a share, at 82 °F; NaN where not quantified.</param>
/// <param name="CapacityChange95">The same at 95 °F.</param>
/// <param name="ExtraEnergy">Extra energy for the same cooling, as a share; NaN where not quantified.</param>
public sealed record Signature(int Cause, double Severity, double[] At82, double[] At95, double CapacityChange82, double CapacityChange95, double ExtraEnergy);
