using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Files;

/// <summary>The worklist as files to work with: CSV, one workbook, a calendar of the visits, and the lists of what needs no visit.</summary>
public static class WorklistFiles
{
    private static readonly string[] Visit =
    [
        "visit_on", "visiting_crew", "visit_order", "starts_at", "rank", "install_id", "crew_id", "region", "installed_on", "nominal_tons", "refrigerant", "metering",
        "likely_correction", "p_airflow_correction", "p_charge_correction", "benefit_usd", "first_checks", "bring", "cautions", "score_because", "finding",
        "travel_minutes", "visit_minutes", "latitude", "longitude", "planned_by",
    ];

    /// <summary>Writes the files into a folder, made if missing; files of these names are replaced. The same lake gives the same bytes.</summary>
    /// <returns>Full paths: visits, workbook, calendar, and the other lists.</returns>
    public static IReadOnlyList<string> Write(LakeSession session, string folder)
    {
        Sheet List(string file, string title, TableContract table, string where, string order, IReadOnlyList<string>? columns = null) =>
            new(file, title, columns ?? table.Columns, session.Read(table, $"SELECT * FROM {table.Name} WHERE {where} ORDER BY {order}"));
        string[] need = ["install_id", "crew_id", "region", "installed_on", "benefit_usd", "need_because"];
        List<Sheet> sheets =
        [
            List("worklist.csv", "Visits", Tables.Worklist, "true", "visit_on NULLS LAST, region, visiting_crew, visit_order, rank", Visit),
            List("no-visit-needed.csv", "No visit needed", Tables.VisitNeeds, "visit_need = 'not_needed'", "install_id", need),
            List("cannot-be-judged.csv", "Cannot be judged", Tables.VisitNeeds, "visit_need = 'cannot_judge'", "install_id", [.. need.Where(c => c != "benefit_usd")]),
            List("later.csv", "Later", Tables.VisitNeeds, "visit_need = 'later'", "benefit_usd DESC, install_id", need),
            List("settings-that-matter.csv", "Settings that matter", Tables.WorklistSensitivity, "true", "setting_name, setting_value"),
        ];
        Directory.CreateDirectory(folder);
        var paths = new List<string>();
        void Put(string name, byte[] bytes)
        {
            var path = Path.Combine(Path.GetFullPath(folder), name);
            File.WriteAllBytes(path, bytes);
            paths.Add(path);
        }

        Put(sheets[0].File, CsvFile.Of(sheets[0]));
        Put("worklist.xlsx", Workbook.Of(sheets));
        var scoredOn = session.Read(Tables.Scores, "SELECT max(scored_on) AS scored_on FROM scores").Day("scored_on")[0];
        Put("worklist.ics", VisitCalendar.Of(sheets[0].Rows, scoredOn ?? new DateOnly(2000, 1, 1)));
        foreach (var sheet in sheets.Skip(1))
        {
            Put(sheet.File, CsvFile.Of(sheet));
        }

        return paths;
    }
}
