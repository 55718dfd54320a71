using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet.Copies;

/// <summary>Puts what <see cref="CopyLooks"/> finds into the lake: a question a crew and quarter, and the visits that repeat an earlier one.</summary>
internal static class CopyTables
{
    private const string Version = "2";

    /// <summary>Looks again when a reading or an install has changed.</summary>
    public static void Put(Publication publication, IProgress<string>? progress)
    {
        var madeFrom = Fingerprint.Of(publication.Pending.Of(Tables.Readings.Name).Concat(publication.Pending.Of(Tables.Installs.Name)).Select(e => e.Sha256).Prepend(Version));
        if (publication.Pending.AllStand(madeFrom, Tables.RepeatedVisits, Tables.CopyQuestions))
        {
            progress?.Report($"{Tables.CopyQuestions.Name}: unchanged");
            return;
        }

        var (questions, repeated) = CopyLooks.Look(Readings(publication));
        publication.Put(Tables.RepeatedVisits, Repeated(repeated));
        // Last, because its fingerprint says that both are done.
        publication.Put(Tables.CopyQuestions, Questions(questions), madeFrom);
        progress?.Report(string.Create(CultureInfo.InvariantCulture, $"{Tables.CopyQuestions.Name}: {questions.Count(q => q.IsAsked)} of {questions.Count} crews and quarters to ask about"));
    }

    private static List<CopyReading> Readings(Publication publication)
    {
        using var session = publication.OpenSession();
        using var reader = session.Query($"""
            select r.crew_id, r.visit_id, r.reading_no, r.install_id, r.visited_at, r.visited_on, r.outdoor_db_f, i.refrigerant, r.correction,
                {string.Join(", ", CopyReading.Columns.Select(c => "r." + c))}
            from readings r left join installs i using (install_id)
            """);
        var (readings, few) = (new List<CopyReading>(), new FewTexts());
        var visit = "";
        while (reader.Read())
        {
            // Readings of a visit mostly stand one after the other: they share the text.
            visit = reader.GetString(1) is var id && id == visit ? visit : id;
            var values = new double[CopyReading.Columns.Count];
            for (var c = 0; c < values.Length; c++)
            {
                values[c] = reader.NumberOf(9 + c);
            }

            readings.Add(new(
                few.One(reader.GetString(0)), visit, reader.GetInt32(2), reader.GetString(3), reader.GetDateTime(4), reader.GetFieldValue<DateOnly>(5),
                reader.NumberOf(6), few.One(reader.TextOf(7) ?? ""), !reader.IsDBNull(8), values));
        }

        return readings;
    }

    private static Batch Questions(IReadOnlyList<CopyQuestion> questions)
    {
        var batch = new Batch(Tables.CopyQuestions, questions.Count);
        foreach (var (i, q) in questions.OrderBy(q => q.CrewId, StringComparer.Ordinal).ThenBy(q => q.Quarter, StringComparer.Ordinal).Index())
        {
            batch.Text("crew_id")[i] = q.CrewId;
            batch.Text("quarter")[i] = q.Quarter;
            batch.Whole("visits")[i] = q.Visits;
            batch.Whole("repeated_visits")[i] = q.RepeatedVisits;
            batch.Number("repeat_chance")[i] = q.RepeatChance;
            batch.Whole("digits")[i] = q.Digits;
            batch.Number("digit_chi_square")[i] = q.DigitChiSquare;
            batch.Number("digit_chance")[i] = q.DigitChance;
            batch.Text("spread_column")[i] = q.SpreadColumn;
            batch.Number("spread_ratio")[i] = q.SpreadRatio;
            batch.Number("spread_chance")[i] = q.SpreadChance;
            batch.Number("adjusted_chance")[i] = q.AdjustedChance;
            batch.Whole("is_asked")[i] = q.IsAsked ? 1 : 0;
        }

        return batch;
    }

    private static Batch Repeated(IReadOnlyList<RepeatedVisit> repeated)
    {
        var batch = new Batch(Tables.RepeatedVisits, repeated.Count);
        foreach (var (i, r) in repeated.OrderBy(r => r.Visit.VisitId, StringComparer.Ordinal).Index())
        {
            batch.Text("visit_id")[i] = r.Visit.VisitId;
            batch.Text("crew_id")[i] = r.Visit.CrewId;
            batch.Day("visited_on")[i] = r.Visit.VisitedOn;
            batch.Text("earlier_visit_id")[i] = r.Earlier.VisitId;
            batch.Whole("compared_columns")[i] = r.Compared;
            batch.Whole("repeated_columns")[i] = r.Repeated;
            batch.Number("repeat_chance")[i] = r.Chance;
        }

        return batch;
    }
}
