using System.CommandLine;
using Revisit.Forecast.Visits;
using Revisit.Records;
using Revisit.Report.Files;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit worklist: which visits to make in the coming weeks, as files to work with.</summary>
internal static class WorklistCommand
{
    public static Command Make()
    {
        var lake = Options.Lake();
        var settings = new Option<string?>("--settings") { Description = "Costs, odds, hours and travel, such as pipelines/worklist.yaml; the documented defaults when left out" };
        var weeks = new Option<int?>("--weeks") { Description = "Weeks to plan for, in place of what the settings say" };
        var crews = new Option<int?>("--crews") { Description = "Crews that go back, in place of what the settings say" };
        var folder = new Option<string>("--out") { Description = "Folder of the files", DefaultValueFactory = _ => "worklist" };
        var command = new Command("worklist", """
            Choose visits from the scores of the lake under crew hours, travel and weather, and write them as CSV, XLSX and iCalendar, beside the
            lists of what needs no visit, what cannot be judged and which settings change the list. Prints the visits.

            Examples:
              revisit worklist --lake lake
              revisit worklist --weeks 2 --crews 3 --settings pipelines/worklist.yaml --out worklist
            """)
        { lake, settings, weeks, crews, folder };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var read = SettingsFile.ReadWorklist(result.GetValue(settings));
            read = read with { Weeks = result.GetValue(weeks) ?? read.Weeks, Crews = result.GetValue(crews) ?? read.Crews };
            var opened = Lake.At(result.GetValue(lake)!);
            using (var session = opened.OpenSession())
            {
                if (session.Read(Tables.Scores, "SELECT max(scored_on) AS scored_on FROM scores").Day("scored_on")[0] is null)
                {
                    throw new UserError($"The lake {opened.Folder} holds no scores yet. Make them with 'revisit forecast --lake {result.GetValue(lake)}'.");
                }
            }

            using (var publication = opened.BeginPublication())
            {
                WorklistStage.Run(publication, read, Terminal.Progress);
                publication.Commit();
            }

            using var published = opened.OpenSession();
            var paths = WorklistFiles.Write(published, result.GetValue(folder)!);
            File.WriteAllText(Path.Combine(result.GetValue(folder)!, "settings.yaml"), SettingsFile.ToYaml(read));
            Print(published);
            Console.Error.WriteLine("Written: " + string.Join(", ", paths));
        }));
        return command;
    }

    private static void Print(LakeSession session)
    {
        var list = session.Read(Tables.Worklist, "SELECT * FROM worklist ORDER BY visit_on NULLS LAST, region, visiting_crew, visit_order, rank");
        for (var r = 0; r < list.Rows; r++)
        {
            var when = list.Day("visit_on")[r] is { } on ? FormattableString.Invariant($"{on:yyyy-MM-dd} {list.Text("starts_at")[r]} crew {list.Whole("visiting_crew")[r]}") : "no day";
            Console.WriteLine(FormattableString.Invariant($"{when}  {list.Text("region")[r]}  {list.Text("install_id")[r]}  {list.Number("benefit_usd")[r]:0} US$  {list.Text("likely_correction")[r]}"));
        }
    }
}
