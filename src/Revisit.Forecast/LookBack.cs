using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Forecast;

/// <summary>
/// What earlier months' scores said, and what the visits since then found. Chances speak for all installs, follow-ups since are no random
/// sample of them; so planned quality checks are counted by themselves, and only they are held against the chances.
/// </summary>
internal static class LookBack
{
    private static readonly (string Name, Func<FollowUpLabel, bool> Holds)[] Populations = [("all_follow_ups", _ => true), ("quality_checks", l => l.Kind == "quality_check")];

    /// <summary>Keeps a month's scores, without those that abstained; of several in a month the last.</summary>
    public static void Keep(Publication publication, Batch scores, DateOnly scoredOn)
    {
        int[] given = [.. Enumerable.Range(0, scores.Rows).Where(r => scores.Text("abstains_because")[r] is null)];
        var kept = new Batch(Tables.PastScores, given.Length);
        for (var r = 0; r < given.Length; r++)
        {
            kept.Day("scored_on")[r] = scoredOn;
            kept.Text("install_id")[r] = scores.Text("install_id")[given[r]];
            kept.Number("p_airflow_correction")[r] = scores.Number("p_airflow_correction")[given[r]];
            kept.Number("p_charge_correction")[r] = scores.Number("p_charge_correction")[given[r]];
            kept.Text("model_version")[r] = scores.Text("model_version")[given[r]];
        }

        publication.Put(Tables.PastScores, scoredOn.ToString("yyyy-MM", CultureInfo.InvariantCulture), [kept]);
    }

    /// <summary>A row for each month scored before a day, question and kind of follow-up.</summary>
    /// <param name="publication">Holds the scores kept.</param>
    /// <param name="labels">Answers of first follow-ups made by the day.</param>
    /// <param name="asOf">The day.</param>
    public static Batch Of(Publication publication, IReadOnlyList<FollowUpLabel> labels, DateOnly asOf)
    {
        var byInstall = labels.ToDictionary(l => l.InstallId, StringComparer.Ordinal);
        var rows = new List<(DateOnly ScoredOn, string Question, string Population, int Scored, List<(double Chance, bool Needed)> Answers)>();
        foreach (var entry in publication.Pending.Of(Tables.PastScores.Name))
        {
            var past = ParquetTable.Read(publication.PathOf(entry), Tables.PastScores);
            if (past.Rows == 0 || past.Day("scored_on")[0] is not { } day || day >= asOf)
            {
                continue;
            }

            foreach (var question in Question.All)
            {
                var chances = past.Number($"p_{question.Name}_correction");
                foreach (var (name, holds) in Populations)
                {
                    var answers = Enumerable.Range(0, past.Rows)
                        .Select(r => (Chance: chances[r], Label: byInstall.GetValueOrDefault(past.Text("install_id")[r]!)))
                        .Where(a => a.Label is { } l && l.FollowedUpOn > day && holds(l) && question.AnswerOf(l) is not null)
                        .Select(a => (a.Chance, question.AnswerOf(a.Label!)!.Value)).ToList();
                    rows.Add((day, question.Name, name, past.Rows, answers));
                }
            }
        }

        var batch = new Batch(Tables.LookBack, rows.Count);
        for (var r = 0; r < rows.Count; r++)
        {
            var (day, question, population, scored, answers) = rows[r];
            var corrections = answers.Count(a => a.Needed);
            double[] chances = [.. answers.Select(a => a.Chance)];
            bool[] needed = [.. answers.Select(a => a.Needed)];
            batch.Day("scored_on")[r] = day;
            batch.Text("question")[r] = question;
            batch.Text("population")[r] = population;
            batch.Whole("scored")[r] = scored;
            batch.Whole("follow_ups")[r] = answers.Count;
            batch.Whole("corrections")[r] = corrections;
            if (answers.Count == 0)
            {
                continue;
            }

            var mean = chances.Average();
            var (low, high) = Wilson.Interval(corrections, answers.Count);
            batch.Number("mean_chance")[r] = mean;
            batch.Number("rate")[r] = (double)corrections / answers.Count;
            batch.Number("rate_low")[r] = low;
            batch.Number("rate_high")[r] = high;
            batch.Number("brier")[r] = Measures.Brier(chances, needed);
            batch.Number("caught_top_fifth")[r] = 0.2 * Measures.Lift(chances, needed, 0.2);
            batch.Whole("is_apart")[r] = population == "quality_checks" ? mean < low || mean > high ? 1 : 0 : null;
        }

        return batch;
    }

    /// <summary>What is worth saying of the latest month looked back on; null where there is none.</summary>
    public static string? Words(Batch rows)
    {
        var apart = Enumerable.Range(0, rows.Rows).Where(r => rows.Whole("is_apart")[r] == 1).Select(r => string.Create(CultureInfo.InvariantCulture,
            $"{rows.Text("question")[r]} of {rows.Day("scored_on")[r]:yyyy-MM-dd} said {100 * rows.Number("mean_chance")[r]:0} % and {rows.Whole("corrections")[r]} of {rows.Whole("follow_ups")[r]} planned checks found it")).ToList();
        return apart.Count > 0 ? "earlier chances that the visits since do not bear out: " + string.Join("; ", apart)
            : rows.Rows > 0 ? "the visits since bear out earlier chances, as far as planned checks tell" : null;
    }
}
