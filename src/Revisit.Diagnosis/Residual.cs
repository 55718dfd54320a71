namespace Revisit.Diagnosis;

/// <summary>What a cause moves, in the order of a signature's cells.</summary>
public enum Residual
{
    Split, Evaporating, Superheat, Subcooling, CondensingOverOutdoor, LiquidOverOutdoor, AirflowShare,
}
