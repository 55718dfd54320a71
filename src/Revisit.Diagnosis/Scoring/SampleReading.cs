namespace Revisit.Diagnosis;

/// <summary>A made reading with what is true of it.</summary>
/// <param name="Inputs">What the technician reads.</param>
/// <param name="Truth">Index of the true cause in <see cref="Causes.All"/>; a fault the trade lets pass counts as in line.</param>
/// <param name="Severity">How far off, as a share.</param>
public readonly record struct SampleReading(ReadingInputs Inputs, int Truth, double Severity);
