using System.Globalization;
using Revisit.Fleet.Statistics;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet.Crews;

/// <summary>Puts what <see cref="CrewReview"/> finds into the lake.</summary>
internal static class CrewTables
{
    private const string Version = "2";
    private const int Places = 6;

    /// <summary>The queries that <see cref="ComparedInstall.Read"/> reads.</summary>
    public static readonly IReadOnlyList<string> Queries = ["int_installs_compared", "int_installs_planned"];

    /// <summary>Reviews crews again when an install, reading or follow-up has changed.</summary>
    /// <param name="publication">The publication to put the tables into.</param>
    /// <param name="session">A session over it in which <see cref="SqlLibrary.DefineViews"/> has run; it then sees the tables.</param>
    /// <param name="progress">May be null.</param>
    public static void Put(Publication publication, LakeSession session, IProgress<string>? progress)
    {
        var madeFrom = Fingerprint.Of([Version, .. Queries.Select(q => FleetStage.Fingerprint(SqlLibrary.Embedded, SqlLibrary.Embedded.Find(q)!, publication.Pending))]);
        if (publication.Pending.AllStand(madeFrom, Tables.CrewMistakes, Tables.CrewChanges, Tables.CrewQuarters, Tables.PopulationRates, Tables.CoachingPoints, Tables.CoachingExamples, Tables.CrewRates))
        {
            progress?.Report($"{Tables.CrewRates.Name}: unchanged");
            return;
        }

        var review = CrewReview.Of(ComparedInstall.Read(session));
        var sheets = CoachingSheet.Of(review);
        foreach (var entry in new[]
        {
            publication.Put(Tables.CrewMistakes, Standings(Tables.CrewMistakes, review.Mistakes)),
            publication.Put(Tables.CrewChanges, Changes(review.Changes)),
            publication.Put(Tables.CrewQuarters, Quarters(review.Quarters)),
            publication.Put(Tables.PopulationRates, Populations(review.Populations)),
            publication.Put(Tables.CoachingPoints, Points(sheets)),
            publication.Put(Tables.CoachingExamples, Examples(sheets)),
            // Last, because its fingerprint says that all are done.
            publication.Put(Tables.CrewRates, Standings(Tables.CrewRates, review.Rates), madeFrom),
        })
        {
            FleetStage.Show(session, publication, entry);
        }

        progress?.Report(string.Create(CultureInfo.InvariantCulture,
            $"{Tables.CrewRates.Name}: {Apart(review.Rates)} of {review.Rates.Sum(c => c.Crews.Count(k => k.IsCompared))} comparisons stand apart, {Apart(review.Mistakes)} of {review.Mistakes.Sum(c => c.Crews.Count(k => k.IsCompared))} recurring mistakes"));
    }

    private static int Apart(IEnumerable<CrewComparison> comparisons) => comparisons.Sum(c => c.Crews.Count(k => k.Standing is "more" or "fewer"));

    /// <summary>Rows by crew and what is compared; numbers are rounded, so that a file has the same bytes wherever it is made.</summary>
    private static Batch Standings(TableContract table, IEnumerable<CrewComparison> comparisons)
    {
        var rows = comparisons.SelectMany(c => c.Crews).OrderBy(c => c.CrewId, StringComparer.Ordinal).ThenBy(c => c.Compared, StringComparer.Ordinal).ToList();
        var batch = new Batch(table, rows.Count);
        void Number(string name, int row, double value) => batch.Number(name)[row] = double.IsFinite(value) ? Math.Round(value, Places) : double.NaN;
        void Three(string name, int row, double value, Interval limits)
        {
            Number(name, row, value);
            Number(name + "_low", row, limits.Low);
            Number(name + "_high", row, limits.High);
        }

        var ofRates = table == Tables.CrewRates;
        foreach (var (i, c) in rows.Index())
        {
            batch.Text("crew_id")[i] = c.CrewId;
            batch.Text(ofRates ? "compared" : "habit")[i] = c.Compared;
            batch.Whole("judged")[i] = c.Judged;
            batch.Whole("enough")[i] = c.Judged >= CrewStanding.Enough ? 1 : 0;
            batch.Whole("observed")[i] = c.Observed;
            Three("rate", i, (double)c.Observed / c.Judged, Interval.OfShare(c.Observed, c.Judged));
            Number("expected_count", i, c.Expected);
            Three("ratio", i, c.Ratio, c.RatioLimits);
            Three("adjusted_rate", i, c.AdjustedRate, c.AdjustedLimits);
            Three("shrunken_ratio", i, c.Shrunken, c.ShrunkenLimits);
            Number("z_score", i, c.Z);
            Number("p_value", i, c.P);
            Number("q_value", i, c.Q);
            batch.Text("standing")[i] = c.Standing;
            if (ofRates)
            {
                Number("dispersion", i, c.Dispersion);
                Number("funnel_low", i, c.FunnelLimits.Low);
                Number("funnel_high", i, c.FunnelLimits.High);
                batch.Text("funnel_position")[i] = c.Position;
            }
            else
            {
                Number("peer_rate", i, c.PeerRate);
            }

            batch.Text("population")[i] = ComparedInstall.AtStart.Contains(c.Compared) ? "start_ups" : "all_follow_ups";
        }

        return batch;
    }

    private static Batch Changes(IEnumerable<CrewChange> changes)
    {
        var rows = changes.OrderBy(c => c.CrewId, StringComparer.Ordinal).ThenBy(c => c.Compared, StringComparer.Ordinal).ThenBy(c => c.Direction, StringComparer.Ordinal).ToList();
        var batch = new Batch(Tables.CrewChanges, rows.Count);
        foreach (var (i, c) in rows.Index())
        {
            batch.Text("crew_id")[i] = c.CrewId;
            batch.Text("compared")[i] = c.Compared;
            batch.Text("direction")[i] = c.Direction;
            batch.Whole("baseline_installs")[i] = c.BaselineInstalls;
            batch.Number("baseline_ratio")[i] = Math.Round(c.BaselineRatio, Places);
            batch.Day("charted_from")[i] = c.ChartedFrom;
            batch.Whole("charted_installs")[i] = c.Charted;
            batch.Whole("charted_observed")[i] = c.Observed;
            batch.Number("charted_expected")[i] = Math.Round(c.Expected, Places);
            batch.Number("cusum_highest")[i] = Math.Round(c.Highest, Places);
            batch.Number("cusum_limit")[i] = Math.Round(c.Limit, Places);
            batch.Number("false_signal_chance")[i] = Math.Round(c.FalseSignalChance, Places);
            batch.Number("signal_chance")[i] = Math.Round(c.SignalChance, Places);
            batch.Number("run_length")[i] = Math.Round(c.RunLength, Places);
            batch.Whole("signalled_after")[i] = c.SignalledAfter;
            batch.Day("signalled_on")[i] = c.SignalledOn;
        }

        return batch;
    }

    private static Batch Quarters(IEnumerable<CrewQuarter> quarters)
    {
        var rows = quarters.OrderBy(q => q.CrewId, StringComparer.Ordinal).ThenBy(q => q.Compared, StringComparer.Ordinal).ThenBy(q => q.Quarter, StringComparer.Ordinal).ToList();
        var batch = new Batch(Tables.CrewQuarters, rows.Count);
        foreach (var (i, q) in rows.Index())
        {
            batch.Text("crew_id")[i] = q.CrewId;
            batch.Text("compared")[i] = q.Compared;
            batch.Text("quarter")[i] = q.Quarter;
            batch.Whole("judged")[i] = q.Judged;
            batch.Whole("observed")[i] = q.Observed;
            batch.Number("rate")[i] = Math.Round((double)q.Observed / q.Judged, Places);
            batch.Number("expected_rate")[i] = Math.Round(q.ExpectedRate, Places);
            batch.Number("limit_low")[i] = Math.Round(q.Limits.Low, Places);
            batch.Number("limit_high")[i] = Math.Round(q.Limits.High, Places);
        }

        return batch;
    }

    internal static Batch Points(IEnumerable<CoachingSheet> sheets)
    {
        var rows = sheets.SelectMany(s => s.GoesWell.Index().Select(g => (s.CrewId, Part: "goes_well", Place: g.Index + 1, Point: g.Item.Compared))
            .Concat(s.Habits.Index().Select(h => (s.CrewId, Part: "to_change", Place: h.Index + 1, Point: h.Item.Standing.Compared)))).ToList();
        var batch = new Batch(Tables.CoachingPoints, rows.Count);
        foreach (var (i, r) in rows.Index())
        {
            batch.Text("crew_id")[i] = r.CrewId;
            batch.Text("sheet_part")[i] = r.Part;
            batch.Whole("sheet_place")[i] = r.Place;
            batch.Text("sheet_point")[i] = r.Point;
        }

        return batch;
    }

    internal static Batch Examples(IEnumerable<CoachingSheet> sheets)
    {
        var rows = sheets.SelectMany(s => s.Habits.OrderBy(h => h.Standing.Compared, StringComparer.Ordinal)
            .SelectMany(h => h.Examples.Index().Select(e => (s.CrewId, Habit: h.Standing.Compared, Place: e.Index + 1, Example: e.Item)))).ToList();
        var batch = new Batch(Tables.CoachingExamples, rows.Count);
        foreach (var (i, r) in rows.Index())
        {
            batch.Text("crew_id")[i] = r.CrewId;
            batch.Text("habit")[i] = r.Habit;
            batch.Whole("sheet_place")[i] = r.Place;
            batch.Text("install_id")[i] = r.Example.InstallId;
            batch.Text("visit_id")[i] = r.Example.VisitId;
            batch.Day("seen_on")[i] = r.Example.SeenOn;
        }

        return batch;
    }

    private static Batch Populations(IEnumerable<PopulationRate> populations)
    {
        var rows = populations.OrderBy(p => p.Compared, StringComparer.Ordinal).ThenBy(p => p.Population, StringComparer.Ordinal).ToList();
        var batch = new Batch(Tables.PopulationRates, rows.Count);
        foreach (var (i, p) in rows.Index())
        {
            batch.Text("compared")[i] = p.Compared;
            batch.Text("population")[i] = p.Population;
            batch.Whole("judged")[i] = p.Judged;
            batch.Number("effective_installs")[i] = Math.Round(p.Share.Effective, Places);
            batch.Number("rate")[i] = Math.Round(p.Share.Share, Places);
            batch.Number("rate_low")[i] = Math.Round(p.Share.Interval.Low, Places);
            batch.Number("rate_high")[i] = Math.Round(p.Share.Interval.High, Places);
        }

        return batch;
    }
}
