using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>Installs by row, with the index from install_id and each refrigerant looked up once.</summary>
internal sealed class InstallTable
{
    private readonly Dictionary<string, int> rowOf;
    private readonly string?[] refrigerant;
    private readonly Refrigerant?[] fluid;
    private readonly string?[] metering;
    private readonly SoundSystem?[] system;
    private readonly string[] fleetClass;
    private readonly int[] classNumber;
    private readonly double[] tons, rated, eer, subcooling, superheat, airflow, elevation;

    public InstallTable(Batch installs)
    {
        var ids = installs.Text("install_id");
        rowOf = new(ids.Length, StringComparer.Ordinal);
        for (var i = 0; i < ids.Length; i++)
        {
            rowOf[ids[i]!] = i;
        }

        refrigerant = installs.Text("refrigerant");
        metering = installs.Text("metering");
        tons = installs.Number("nominal_tons");
        rated = installs.Number("rated_cooling_btuh");
        eer = installs.Number("rated_eer");
        subcooling = installs.Number("target_subcooling_f");
        superheat = installs.Number("target_superheat_f");
        airflow = installs.Number("design_airflow_cfm");
        elevation = installs.Number("elevation_ft");
        fluid = new Refrigerant?[ids.Length];
        system = new SoundSystem?[ids.Length];
        fleetClass = new string[ids.Length];
        classNumber = new int[ids.Length];
        var numbers = new Dictionary<SoundSystem, int>();
        var known = new Dictionary<string, Refrigerant?>(StringComparer.Ordinal);
        for (var i = 0; i < ids.Length; i++)
        {
            if (refrigerant[i] is { } name)
            {
                if (!known.TryGetValue(name, out fluid[i]))
                {
                    known[name] = fluid[i] = Refrigerants.TryFind(name, out var found) ? found : null;
                }
            }

            var x = new ReadingInputs { Refrigerant = refrigerant[i], Fluid = fluid[i], Metering = metering[i], RatedEer = eer[i], TargetSubcooling = subcooling[i] };
            system[i] = SoundSystem.Of(x);
            fleetClass[i] = FleetExpectation.ClassOf(x);
            if (!numbers.TryGetValue(system[i]!, out classNumber[i]))
            {
                numbers[system[i]!] = classNumber[i] = numbers.Count;
            }
        }
    }

    /// <summary>A number that installs of one class of equipment share; −1 for an install not in the table.</summary>
    public int ClassNumber(string? installId) => installId is not null && rowOf.TryGetValue(installId, out var i) ? classNumber[i] : -1;

    /// <summary>Fills what is known of the install; an install not in the table leaves everything missing.</summary>
    public void Describe(string? installId, ref ReadingInputs x)
    {
        if (installId is null || !rowOf.TryGetValue(installId, out var i))
        {
            return;
        }

        x.Refrigerant = refrigerant[i];
        x.Fluid = fluid[i];
        x.Equipment = system[i];
        x.FleetClass = fleetClass[i];
        x.Metering = metering[i];
        x.NominalTons = tons[i];
        x.RatedCooling = rated[i];
        x.RatedEer = eer[i];
        x.TargetSubcooling = subcooling[i];
        x.TargetSuperheat = superheat[i];
        x.DesignAirflow = airflow[i];
        x.Elevation = elevation[i];
    }
}
