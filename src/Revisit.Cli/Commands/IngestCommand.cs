using System.CommandLine;
using System.Globalization;
using Revisit.Ingest;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli.Commands;

/// <summary>revisit ingest: takes exports into the lake.</summary>
internal static class IngestCommand
{
    public static Command Make()
    {
        var files = new Argument<string[]>("FILE") { Description = "Exports to take in, gzip-compressed or not: files, folders, or patterns with * and ?", Arity = ArgumentArity.OneOrMore };
        var profile = new Option<string>("--profile") { Description = "Source profile: a name under pipelines/sources, a path, or 'plain'", DefaultValueFactory = _ => "plain" };
        var lake = Options.Lake();
        var command = new Command("ingest", """
            Normalise visit readings from exports into the lake.

            Examples:
              revisit ingest readings.csv --lake lake                             columns already bear the names of the reading row
              revisit ingest --profile harbor-office march.csv --lake lake        pipelines/sources/harbor-office.yaml
              revisit ingest --profile ./mine.yaml exports/*.csv --lake lake
              revisit ingest --profile ./mine.yaml march --lake lake              every file of the folder 'march', .gz included
            """)
        { files, profile, lake };
        command.SetAction(result => Terminal.Guard(() =>
        {
            var (found, missing) = (new List<string>(), new List<string>());
            foreach (var asked in result.GetValue(files)!)
            {
                try
                {
                    found.AddRange(SourceFiles.Find(asked));
                }
                catch (UserError e)
                {
                    missing.Add(e.Message);
                }
            }

            if (missing.Count > 0)
            {
                throw new UserError("Nothing was read:", missing);
            }

            var chosen = Profiles.Find(result.GetValue(profile)!, Directory.GetCurrentDirectory());
            using var publication = Lake.At(result.GetValue(lake)!).BeginPublication();
            var summaries = IngestStage.Run(publication, [.. found.Distinct().Select(f => new IngestFile(f, chosen))], Terminal.Progress);
            publication.Commit();
            Print(summaries, Console.Out);
            Console.Error.WriteLine($"Next: revisit diagnose --lake {result.GetValue(lake)}");
        }));
        return command;
    }

    /// <summary>One line a file, then what is worth knowing.</summary>
    public static void Print(IReadOnlyList<SourceSummary> summaries, TextWriter to)
    {
        foreach (var s in summaries)
        {
            to.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{s.Name}: {s.RowsRead} rows read = {s.Accepted} accepted + {s.Duplicates} duplicates + {s.Superseded} superseded + {s.Rejected} rejected; {s.SetAside} values set aside{(s.HeldAlready ? " (held already)" : "")}"));
            foreach (var (reason, count) in s.RejectedByReason)
            {
                Console.Error.WriteLine($"  {s.Name}: {count} rejected: {reason}");
            }

            foreach (var remark in s.Remarks)
            {
                Console.Error.WriteLine("  " + remark);
            }

            if (s.RowsRead > 0 && s.Rejected > s.RowsRead / 2)
            {
                Console.Error.WriteLine($"  {s.Name}: more than half of the rows were rejected; is the profile '{s.Profile}' the right one? See: revisit sql \"select rejected_reason, detail, count(*) from rejected_rows group by all\"");
            }
        }
    }
}
