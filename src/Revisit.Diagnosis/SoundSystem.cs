using System.Collections.Concurrent;
using Revisit.Physics;

namespace Revisit.Diagnosis;

/// <summary>
/// A class of equipment and what a sound one of it reads, by the equipment model (<see cref="EquipmentModel"/>; its agreement with
/// published results is printed by the physics tests). One object a class, shared by all readings of it.
/// </summary>
public sealed class SoundSystem
{
    /// <summary>Airflow of a sound system where the design gives none [cfm a ton] (common practice, no source).</summary>
    public const double AirflowPerTon = 400;

    /// <summary>Rated efficiency where none is written down [Btu/(W·h)]: the middle of what is installed (judgement).</summary>
    public const double UsualEer = 11.5;

    /// <summary>Subcooling a valve system is charged to where the unit's own is not known [°F difference] (common practice, no source).</summary>
    public const double UsualSubcoolingF = 10;

    /// <summary>
    /// Rise of the supply air through the blower [°F difference]: 365 W a 1,000 scfm (the default of AHRI 210/240, from memory), all of
    /// it heat in the air, over 1.08 Btu/(h·cfm·°F). The model's split is before it.
    /// </summary>
    public const double BlowerHeatF = 0.365 * 3.412 / 1.08;

    private static readonly ConcurrentDictionary<(Refrigerant, Metering, double, double), SoundSystem> Known = new();
    private readonly ConcurrentDictionary<(int, int, int), Slopes> slopes = new();
    private readonly ExpectedTable expected;
    private readonly SignatureTable signatures;

    private SoundSystem(Equipment equipment)
    {
        expected = ExpectedTable.For(equipment);
        signatures = SignatureTable.For(equipment);
        Equipment = equipment;
    }

    /// <summary>The class, as the model takes it; size and airflow are placeholders.</summary>
    public Equipment Equipment { get; }

    /// <summary>The class of a reading. Efficiency to half a point and subcooling to 1 °F, so that readings share few classes.</summary>
    public static SoundSystem Of(in ReadingInputs x)
    {
        var fluid = x.Fluid ?? (Refrigerants.TryFind(x.Refrigerant, out var found) ? found : Refrigerants.All[0]);
        var metering = x.HasOrifice ? Metering.FixedOrifice : Metering.Txv;
        var eer = Math.Clamp(Math.Round(2 * (double.IsNaN(x.RatedEer) ? UsualEer : x.RatedEer)) / 2, 7, 18);
        var subcooling = x.HasOrifice || double.IsNaN(x.TargetSubcooling) ? UsualSubcoolingF : Math.Clamp(Math.Round(x.TargetSubcooling), 3, 20);
        return Known.GetOrAdd((fluid, metering, eer, subcooling), static k => new(new Equipment(k.Item1, k.Item2, 3, k.Item3, k.Item4, AirflowPerTon)));
    }

    /// <summary>What a sound one reads.</summary>
    /// <param name="conditions">What it runs in.</param>
    /// <param name="scfmPerTon">Its airflow, of standard air [scfm a ton].</param>
    public ExpectedReading Expected(in EquipmentConditions conditions, double scfmPerTon) => expected.Expected(conditions, scfmPerTon);

    /// <summary>What every fault at every severity changes; see <see cref="SignatureTable.Shifts"/>.</summary>
    public bool Shifts(in EquipmentConditions conditions, double scfmPerTon, in ExpectedReading sound, Span<float> shifts) =>
        signatures.Shifts(conditions, scfmPerTon, sound, shifts);

    /// <summary>How the expected values move with what was measured of the weather, near some conditions.</summary>
    public Slopes SlopesNear(in EquipmentConditions conditions)
    {
        // The slopes change slowly: one set for each 10 °F outdoors, 5 °F of return air and 4 °F of its wet bulb is enough for an uncertainty.
        var cell = ((int)Math.Round(Math.Clamp(conditions.OutdoorDbF, 55, 115) / 10), (int)Math.Round(Math.Clamp(conditions.ReturnDbF, 65, 90) / 5), (int)Math.Round(conditions.ReturnWbF / 4));
        return slopes.GetOrAdd(cell, static (c, system) => Slopes.At(system.expected, c.Item1 * 10, c.Item2 * 5, c.Item3 * 4), this);
    }
}
