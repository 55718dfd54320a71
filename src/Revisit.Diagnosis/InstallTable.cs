using Revisit.Physics;
using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>Installs by row, with the index from install_id and each refrigerant looked up once.</summary>
internal sealed class InstallTable
{
    private readonly Dictionary<string, int> rowOf;

    // What is known of one install stands together: readings ask for it in any order.
    private readonly Known[] known;

    public InstallTable(Batch installs)
    {
        var ids = installs.Text("install_id");
        var (refrigerant, metering) = (installs.Text("refrigerant"), installs.Text("metering"));
        var (tons, rated, eer) = (installs.Number("nominal_tons"), installs.Number("rated_cooling_btuh"), installs.Number("rated_eer"));
        var (subcooling, superheat) = (installs.Number("target_subcooling_f"), installs.Number("target_superheat_f"));
        var (airflow, elevation) = (installs.Number("design_airflow_cfm"), installs.Number("elevation_ft"));
        rowOf = new(ids.Length, StringComparer.Ordinal);
        known = new Known[ids.Length];
        var classes = new Dictionary<SoundSystem, int>();
        var fluids = new Dictionary<string, Refrigerant?>(StringComparer.Ordinal);
        for (var i = 0; i < ids.Length; i++)
        {
            rowOf[ids[i]!] = i;
            Refrigerant? fluid = null;
            if (refrigerant[i] is { } name && !fluids.TryGetValue(name, out fluid))
            {
                fluids[name] = fluid = Refrigerants.TryFind(name, out var found) ? found : null;
            }

            var x = new ReadingInputs { Refrigerant = refrigerant[i], Fluid = fluid, Metering = metering[i], RatedEer = eer[i], TargetSubcooling = subcooling[i] };
            var system = SoundSystem.Of(x);
            if (!classes.TryGetValue(system, out var number))
            {
                classes[system] = number = classes.Count;
            }

            known[i] = new(refrigerant[i], fluid, system, FleetExpectation.ClassOf(x), metering[i], number, tons[i], rated[i], eer[i], subcooling[i], superheat[i], airflow[i], elevation[i]);
        }
    }

    /// <summary>The row of an install; −1 for one that is not in the table.</summary>
    public int RowOf(string? installId) => installId is not null && rowOf.TryGetValue(installId, out var row) ? row : -1;

    /// <summary>A number that installs of one class of equipment share; −1 for an install not in the table.</summary>
    public int ClassNumber(int row) => row < 0 ? -1 : known[row].ClassNumber;

    /// <summary>The class the fleet learns by; none for an install not in the table.</summary>
    public string? FleetClass(int row) => row < 0 ? null : known[row].FleetClass;

    /// <summary>Fills what is known of the install; an install not in the table leaves everything missing.</summary>
    public void Describe(int row, ref ReadingInputs x)
    {
        if (row < 0)
        {
            return;
        }

        ref readonly var install = ref known[row];
        x.Refrigerant = install.Refrigerant;
        x.Fluid = install.Fluid;
        x.Equipment = install.System;
        x.FleetClass = install.FleetClass;
        x.Metering = install.Metering;
        x.NominalTons = install.Tons;
        x.RatedCooling = install.Rated;
        x.RatedEer = install.Eer;
        x.TargetSubcooling = install.Subcooling;
        x.TargetSuperheat = install.Superheat;
        x.DesignAirflow = install.Airflow;
        x.Elevation = install.Elevation;
    }

    private readonly record struct Known(
        string? Refrigerant, Refrigerant? Fluid, SoundSystem System, string FleetClass, string? Metering, int ClassNumber,
        double Tons, double Rated, double Eer, double Subcooling, double Superheat, double Airflow, double Elevation);
}
