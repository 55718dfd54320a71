namespace Revisit.Records;

/// <summary>
/// What can hurt someone at the unit, in the words used wherever someone would act (common practice, no source). They go with every
/// list of work; the maker's instructions and local codes come first.
/// </summary>
public static class Caution
{
    public const string PowerOff = "power off and locked out before touching blower wiring";
    public const string Capacitors = "capacitors hold a charge after power is off";
    public const string Attic = "attic: heat and falls";
    public const string Refrigerant = "refrigerant work only by certified people, with recovery";
    public const string UnknownRefrigerant = "refrigerant not recorded: read the nameplate first, it may be mildly flammable (A2L)";
    public const string Freezing = "after any reduction of airflow watch the coil for freezing";
    public const string MakerFirst = "maker's instructions and local codes come first";
    public const string Licensed = "a licensed technician decides";
    private static readonly string[] MildlyFlammable = ["R-32", "R-454B"];

    /// <summary>What to say of a refrigerant by its designation, or null: A2L ones of ASHRAE 34 among those this tool knows.</summary>
    public static string? Of(string? refrigerant) => refrigerant is null ? UnknownRefrigerant
        : MildlyFlammable.Contains(refrigerant) ? $"{refrigerant} is mildly flammable (A2L): ventilate, no ignition source, tools rated for it"
        : null;
}
