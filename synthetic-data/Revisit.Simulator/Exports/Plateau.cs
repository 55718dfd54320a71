using System.Globalization;
using System.Text;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>Semicolons, Windows-1252, decimal commas, French headings, SI units with gauge bar, relative humidity instead of wet bulb.</summary>
internal static class Plateau
{
    private static readonly CultureInfo Comma = DecimalComma();

    private static readonly (string, string)[] Actions =
    [
        ("blower_tap", "vitesse"), ("filter", "filtre changé"), ("duct", "gaine"), ("coil_clean", "nettoyage batterie"), ("charge_added", "appoint"),
        ("charge_removed", "retrait"), ("metering", "détendeur"), ("other", "autre"),
    ];

    public static ExportShape Shape(Fleet fleet)
    {
        var zone = fleet.Zone(Scenario.Branches[1]);
        static string N(double value, string format) => Cell.NumberIn(Comma, value, format);
        static string C(double f) => N(Cell.Celsius(f), "0.0");
        static string Bar(double psig) => N(psig * Units.PascalPerPsi / 1e5, "0.00");
        ExportColumn[] columns =
        [
            new("Moment", "visited_at", r => Cell.Local(r.VisitedAt, zone, "dd/MM/yyyy HH:mm")),
            new("Équipe", "crew_id", r => r.CrewId),
            new("Agent", "technician_id", r => r.TechnicianId),
            new("Dossier", "visit_id", r => r.VisitId),
            new("Mesure n°", "reading_no", r => N(r.ReadingNo, "0")),
            new("Machine", "install_id", r => r.InstallId),
            new("Motif", "visit_kind", r => Cell.Word(r.VisitKind, ("commissioning", "mise en service"), ("quality_check", "contrôle"), ("callback", "réclamation"), ("maintenance", "entretien"))),
            new("Étape", "phase", r => Cell.Word(r.Phase, ("as_found", "à l’arrivée"), ("interim", "en cours"), ("as_left", "au départ"))),
            new("Altitude (m)", "elevation_ft", r => N(r.Install.ElevationFt * Units.MetrePerFoot, "0")),
            new("Posée le", "installed_on", r => Cell.Day(r.Install.InstalledOn, "dd/MM/yyyy")),
            new("Froid nominal (kW)", "nominal_tons", r => N(r.Install.NominalTons * 3.5168528, "0.00")),
            new("Fluide", "refrigerant", r => r.Install.Refrigerant),
            new("Détente", "metering", r => Cell.Word(r.Install.Metering, ("txv", "thermostatique"), ("eev", "électronique"), ("fixed_orifice", "orifice fixe"))),
            new("Sous-refr. voulu (K)", "target_subcooling_f", r => N(r.Install.TargetSubcoolingF / 1.8, "0.0")),
            new("Tuyauterie (m)", "line_set_ft", r => N(r.Install.LineSetFt * Units.MetrePerFoot, "0.0")),
            new("Ventilateur", "blower_motor", r => Cell.Word(r.Install.BlowerMotor, ("psc", "à condensateur"), ("constant_torque", "couple constant"), ("constant_airflow", "débit constant"))),
            new("Gaines", "duct_location", r => Cell.Word(r.Install.DuctLocation, ("attic", "combles"), ("crawlspace", "vide sanitaire"), ("basement", "sous-sol"), ("garage", "garage"), ("indoors", "volume chauffé"))),
            new("Marche (min)", "minutes_running", r => N(r.MinutesRunning, "0")),
            new("Air neuf ext. (°C)", "outdoor_db_f", r => C(r.OutdoorDbF)),
            new("Soufflage (°C)", "supply_db_f", r => C(r.SupplyDbF)),
            new("Reprise (°C)", "return_db_f", r => C(r.ReturnDbF)),
            new("Reprise HR (%)", "return_rh_pct", Humidity),
            new("HP (bar)", "liquid_pressure_psig", r => Bar(r.LiquidPressurePsig)),
            new("BP (bar)", "suction_pressure_psig", r => Bar(r.SuctionPressurePsig)),
            new("Tube liquide (°C)", "liquid_line_f", r => C(r.LiquidLineF)),
            new("Tube aspiration (°C)", "suction_line_f", r => C(r.SuctionLineF)),
            new("Refoulement (°C)", "discharge_line_f", r => C(r.DischargeLineF)),
            new("Pression gaine (Pa)", "external_static_inwc", r => N(r.ExternalStaticInwc * Units.PascalPerInchWater, "0")),
            new("Débit (m³/h)", "airflow_cfm", r => N(Cell.CubicMetresPerHour(r.AirflowCfm), "0")),
            new("Cran ventilateur", "blower_tap", r => Cell.Word(r.BlowerTap, ("low", "1"), ("medium_low", "2"), ("medium", "3"), ("medium_high", "4"), ("high", "5"))),
            new("Filtre", "filter_state", r => Cell.Word(r.FilterState, ("clean", "propre"), ("fair", "moyen"), ("loaded", "colmaté"), ("missing", "absent"))),
            new("Travail", "correction", r => Cell.Words(r.Correction, Actions)),
            new("Fluide ± (g)", "charge_change_oz", r => N(Cell.Grams(r.ChargeChangeOz), "0")),
            new("Remarque", "notes", r => r.Notes is null ? "" : "voir fiche – œil de bœuf"),
            new("Enregistré", "saved_at", r => Cell.Local(r.SavedAt, zone, "dd/MM/yyyy HH:mm")),
        ];
        (string, string)[] Saved(DateTime utc) => [("Enregistré", Cell.Local(utc, zone, "dd/MM/yyyy HH:mm"))];
        return new ExportShape(
            "plateau.txt", CodePagesEncodingProvider.Instance.GetEncoding(1252)!, "\r\n", columns, [string.Join(';', columns.Select(c => c.Heading))],
            row => string.Join(';', row.Cut ? row.Cells.Take(16) : row.Cells), ["Total des mesures : voir feuille suivante"],
        [
            new(1, (s, at) => s.Replace(at, "suction_line_f", "out_of_range", _ => "999,9")),
            new(4, (s, at) => s.Swap(at, "supply_db_f", "return_db_f", "supply_return_crossed")),
            new(8, (s, at) => s.Swap(at, "liquid_pressure_psig", "suction_pressure_psig", "pressures_crossed")),
            new(10, (s, at) => s.Replace(at, "filter_state", "unknown_code", _ => "???")),
            new(12, (s, at) => s.Replace(at, "suction_pressure_psig", "unit_slip", r => N(r.SuctionPressurePsig, "0.0"))),
            new(14, (s, at) => s.Replace(at, "liquid_line_f", "not_a_number", _ => "sonde cassée")),
            new(17, (s, at) => s.Replace(at, "outdoor_db_f", "decimal_slip", r => N(Cell.Celsius(r.OutdoorDbF) * 10, "0"))),
            new(21, (s, at) => s.Replace(at, "visited_at", "bad_time", _ => "31/02/2026 09:15")),
            new(23, (s, at) => s.Replace(at, "visit_id", "missing_identity", _ => "")),
            new(26, (s, at) => s.Cut(at, "wrong_number_of_fields")),
            new(30, (s, at) => s.Duplicate(at)),
            new(34, (s, at) => s.SaveAgain(at, "return_db_f", row => C(row.Reading.ReturnDbF + 0.9), r => Saved(r.SavedAt.AddMinutes(130)))),
        ])
        {
            Delimiter = ';',
            Culture = Comma,
            Units = new Dictionary<string, string>
            {
                ["[degF]"] = "Cel",
                ["[psi]"] = "bar",
                ["[in_i'H2O]"] = "Pa",
                ["[cft_i]/min"] = "m3/h",
                ["[oz_av]"] = "g",
                ["[ft_i]"] = "m",
                ["[ton_refrig]"] = "kW",
                ["[degR]"] = "K",
            },
            BadTimes = ["31/02/2026 09:15", "07/14/2026 09:15", "08/03/2026 02:30", "hier", "14/07/1926 09:15", "14/07 09:15", "2026"],
            BadDays = ["45/13/2026", "31/04/2026", "printemps", "29/02/2025", "00/00/0000"],
            Saved = Saved,
        };
    }

    /// <summary>This branch owns humidity probes: a wet bulb becomes the relative humidity it means.</summary>
    private static string Humidity(SimulatedReading r)
    {
        if (double.IsNaN(r.ReturnRhPct) && !double.IsNaN(r.ReturnWbF) && !double.IsNaN(r.ReturnDbF))
        {
            var pa = Air.Barometer(r.Install.ElevationFt);
            return Cell.Number(Math.Clamp(Air.RelativeHumidity(r.ReturnDbF, Air.Ratio(r.ReturnDbF, r.ReturnWbF, pa), pa), 4, 99), "0");
        }

        return Cell.Number(r.ReturnRhPct, "0");
    }

    private static CultureInfo DecimalComma()
    {
        var culture = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        culture.NumberFormat.NumberDecimalSeparator = ",";
        return CultureInfo.ReadOnly(culture);
    }
}
