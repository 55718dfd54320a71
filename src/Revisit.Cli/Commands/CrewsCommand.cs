using System.CommandLine;
using Revisit.Fleet.Crews;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit crews: crews compared after adjusting for their work, and one crew in full.</summary>
internal static class CrewsCommand
{
    public static Command Make()
    {
        var lake = Options.Lake();
        var crew = new Option<string?>("--crew") { Description = "One crew in full: what goes well, habits to change, whether the last change showed" };
        var month = new Option<string?>("--month") { Description = "As it was known at the end of a month, YYYY-MM; all of the lake when left out" };
        var csv = new Option<bool>("--csv") { Description = "Print CSV, one row a crew and comparison" };
        var json = new Option<bool>("--json") { Description = "Print one JSON object a crew" };
        var command = new Command("crews", """
            Compare crews by what the first follow-ups of their installs show, after adjusting for the work they were given. Raw and adjusted
            rates stand side by side; crews with fewer than 20 judged installs are not compared.

            Examples:
              revisit crews --lake lake
              revisit crews --crew H1 --lake lake
              revisit crews --month 2026-06 --csv
            """)
        { lake, crew, month, csv, json };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var until = result.GetValue(month) is { } m ? Months.LastDay(m) : (DateOnly?)null;
            using var session = Lake.At(result.GetValue(lake)!).OpenSession();
            var review = CrewReview.Of(session, until);
            var sheets = CoachingSheet.Of(review);
            var corrections = CorrectionsWorked.Read(session, until);
            if (result.GetValue(crew) is { } asked)
            {
                corrections = [.. corrections.Where(c => c.CrewId == asked)];
                var others = sheets.Select(s => s.CrewId).ToList();
                sheets = [.. sheets.Where(s => s.CrewId == asked)];
                if (sheets.Count == 0 && corrections.Count == 0)
                {
                    throw new UserError($"There is no crew '{asked}' with installs on record. Crews: {string.Join(", ", others)}.");
                }
            }

            Console.Write(result.GetValue(csv) ? CrewsText.Csv(sheets, review)
                : result.GetValue(json) ? CrewsText.Json(sheets, review, corrections)
                : result.GetValue(crew) is not { } one ? CrewsText.List(sheets, corrections, until)
                : sheets.Count == 0 ? CrewsText.OnlyCorrections(one, corrections, until)
                : CrewsText.Sheet(sheets[0], corrections, until));
        }));
        return command;
    }
}
