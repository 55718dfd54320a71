namespace Revisit.Diagnosis;

/// <summary>What is compared with what a sound system reads.</summary>
public enum Residual
{
    Split, Evaporating, Superheat, Subcooling, CondensingOverOutdoor, LiquidOverOutdoor, AirflowShare, DischargeLine,
}
