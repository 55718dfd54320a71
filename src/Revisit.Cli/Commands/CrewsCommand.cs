using System.CommandLine;
using System.Globalization;
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
            var until = result.GetValue(month) is { } m ? LastDay(m) : (DateOnly?)null;
            using var session = Lake.At(result.GetValue(lake)!).OpenSession();
            var review = CrewReview.Of(session, until);
            var sheets = CoachingSheet.Of(review);
            if (result.GetValue(crew) is { } asked)
            {
                sheets = sheets.Where(s => s.CrewId == asked).ToList() is { Count: 1 } one ? one
                    : throw new UserError($"There is no crew '{asked}' with installs on record. Crews: {string.Join(", ", sheets.Select(s => s.CrewId))}.");
            }

            Console.Write(result.GetValue(csv) ? CrewsText.Csv(sheets, review)
                : result.GetValue(json) ? CrewsText.Json(sheets, review)
                : result.GetValue(crew) is null ? CrewsText.List(sheets, until)
                : CrewsText.Sheet(sheets[0], until));
        }));
        return command;
    }

    private static DateOnly LastDay(string month) => DateOnly.TryParseExact(month + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var first)
        ? first.AddMonths(1).AddDays(-1)
        : throw new UserError($"'{month}' is no month; write YYYY-MM.");
}
