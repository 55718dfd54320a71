using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Revisit.Fleet.Crews;
using Revisit.Fleet.Statistics;

namespace Revisit.Cli;

/// <summary>Crews as text, CSV or JSON.</summary>
internal static class CrewsText
{
    private const string Population =
        "Population: installs with a first follow-up (complaints included), which are not a random sample of installs.\n"
        + "Adjusted for size, metering, refrigerant, ducts, motor, line length, season, outdoor air and kind of visit; a crew with fewer than 20 judged installs is not compared.\n";

    private static readonly JsonSerializerOptions Compact = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Every crew on a line.</summary>
    public static string List(IReadOnlyList<CoachingSheet> sheets, IReadOnlyList<CorrectionsWorked> corrections, DateOnly? until)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"Crews and what first follow-ups show of their installs{Until(until)}\n").Append(Population);
        text.Append("Rate: raw share -> adjusted share (95 % interval). \"more\" and \"fewer\" hold false discoveries at 5 % over all crews and comparisons.\n\n");
        text.Append(CultureInfo.InvariantCulture, $"{"crew",-8}{"judged",7}  {"airflow out of line",-38}{"charge out of line",-38}habits above peers\n");
        foreach (var s in sheets)
        {
            var cells = CrewReview.Followed.Select(f => Cell(s.Rates.FirstOrDefault(r => r.Compared == f)));
            var line = string.Create(CultureInfo.InvariantCulture, $"{s.CrewId,-8}{s.Judged,7}  {string.Concat(cells.Select(c => c.PadRight(38)))}{string.Join("; ", s.Habits.Select(h => h.Short))}");
            text.Append(line.TrimEnd()).Append('\n');
        }

        Corrections(text.Append("\nDid corrections work, at visits of all crews\n"), corrections, byTechnician: false);
        return text.Append("\nOne crew in full: revisit crews --crew ").Append(sheets.Count > 0 ? sheets[0].CrewId : "CREW").Append('\n').ToString();
    }

    /// <summary>One crew: what goes well, habits to change, whether the last change showed, the comparisons.</summary>
    public static string Sheet(CoachingSheet s, IReadOnlyList<CorrectionsWorked> corrections, DateOnly? until)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"Crew {s.CrewId}{Until(until)}: {s.Judged} judged first follow-ups\n").Append(Population);
        if (!s.Enough)
        {
            return text.Append("Too few judged installs to say anything fair about this crew.\n").ToString();
        }

        text.Append("\nWhat goes well\n");
        foreach (var g in s.GoesWell)
        {
            var w = CrewWords.Of(g.Compared);
            text.Append(CultureInfo.InvariantCulture, $"  {w.What} ({w.Where}): {g.Observed} of {g.Judged}, {g.Expected:0.0} expected{(g.Standing == "fewer" ? "" : "; may be chance")}\n");
        }

        text.Append(s.GoesWell.Count == 0 ? "  nothing lies below what the work lets expect\n" : "").Append("\nHabits to change\n");
        foreach (var (n, h) in s.Habits.Index())
        {
            var m = h.Standing;
            text.Append(CultureInfo.InvariantCulture, $"  {n + 1}. {h.Words.What}: {m.Observed} of {m.Judged} {h.Words.Where} ({Percent(m.Observed, m.Judged)}; other crews {100 * m.PeerRate:0} %)\n");
            text.Append(CultureInfo.InvariantCulture, $"     {m.Ratio:0.0} times as often as such work lets expect (95 % {Span(m.RatioLimits, "0.0")}), q {m.Q:0.0000}\n");
            text.Append(CultureInfo.InvariantCulture, $"     latest: {string.Join(", ", h.Examples.Select(e => $"{e.InstallId} ({e.SeenOn:yyyy-MM-dd})"))}\n     instead: {h.Words.Change}\n");
        }

        text.Append(s.Habits.Count == 0 ? "  none stands above the peers' at the same work\n" : "").Append("\nDid the last change show? Later half of the installs against the crew's own earlier half (risk-adjusted CUSUM)\n");
        foreach (var c in s.Changes)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {c.Compared}, {(c.Direction == "better" ? "odds halved" : "odds doubled")}: ")
                .Append(c.SignalledOn is { } day
                    ? string.Create(CultureInfo.InvariantCulture, $"signal at start-ups of {day:yyyy-MM-dd}, {c.SignalledAfter} installs after {c.ChartedFrom:yyyy-MM-dd}")
                    : string.Create(CultureInfo.InvariantCulture, $"no signal in {c.Charted} installs since {c.ChartedFrom:yyyy-MM-dd}"))
                .Append(CultureInfo.InvariantCulture, $"; {c.Observed} seen, {c.Expected:0.0} as before. Such a change would show in {100 * c.SignalChance:0} % of cases, no change in {100 * c.FalseSignalChance:0} %\n");
        }

        text.Append(s.Changes.Count == 0 ? "  too few installs in each half to say\n" : "").Append("\nAll comparisons\n");
        text.Append(CultureInfo.InvariantCulture, $"  {"",-22}{"judged",7}{"seen",6}{"expected",10}  {"raw -> adjusted",-38}{"shrunken ratio",-21}funnel\n");
        foreach (var r in s.Rates)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {CrewWords.Of(r.Compared).What,-22}{r.Judged,7}{r.Observed,6}{r.Expected,10:0.0}  {Cell(r),-38}{$"{r.Shrunken:0.00} ({Span(r.ShrunkenLimits, "0.00")})",-21}{r.Position}\n");
        }

        Corrections(text.Append("\nDid corrections work, at visits of this crew\n"), corrections, byTechnician: true);
        return text.ToString();
    }

    /// <summary>A crew that installs nothing on record but corrects.</summary>
    public static string OnlyCorrections(string crew, IReadOnlyList<CorrectionsWorked> corrections, DateOnly? until)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"Crew {crew}{Until(until)}: no installs on record, so it is not compared\n\nDid corrections work, at visits of this crew\n");
        Corrections(text, corrections, byTechnician: true);
        return text.ToString();
    }

    private static void Corrections(StringBuilder text, IReadOnlyList<CorrectionsWorked> corrections, bool byTechnician)
    {
        if (corrections.Count == 0)
        {
            text.Append("  no visit with readings as found and as left\n");
            return;
        }

        text.Append("  Cured or better by the readings as found and as left, of the visits that could be judged (95 % interval). Raw: who gets the hard cases is not adjusted for.\n");
        foreach (var kind in CorrectionsWorked.ByKind(corrections))
        {
            Line(kind.Correction.Replace('_', ' '), kind);
            foreach (var by in corrections.Where(c => byTechnician && c.Correction == kind.Correction))
            {
                Line("  by " + (by.TechnicianId ?? "unknown"), by);
            }
        }

        void Line(string name, CorrectionsWorked c) => text.Append(CultureInfo.InvariantCulture, $"  {name,-22}{c.Visits,7} visits{c.Worked,6} of {c.Judged} judged")
            .Append(c.Judged == 0 ? "" : $", {Percent(c.Worked, c.Judged)} ({Span(new(100 * c.Limits.Low, 100 * c.Limits.High), "0")})").Append(c.Judged < CrewStanding.Enough ? ", too few\n" : "\n");
    }

    /// <summary>One row a crew and comparison.</summary>
    public static string Csv(IReadOnlyList<CoachingSheet> sheets, CrewReview review)
    {
        var text = new StringBuilder("crew_id,compared,judged,observed,rate,expected_count,ratio,ratio_low,ratio_high,adjusted_rate,shrunken_ratio,p_value,q_value,standing\n");
        foreach (var c in Standings(sheets, review))
        {
            text.Append(CultureInfo.InvariantCulture, $"{c.CrewId},{c.Compared},{c.Judged},{c.Observed},{N((double)c.Observed / c.Judged)},{N(c.Expected)},{N(c.Ratio)},{N(c.RatioLimits.Low)},{N(c.RatioLimits.High)},{N(c.AdjustedRate)},{N(c.Shrunken)},{N(c.P)},{N(c.Q)},{c.Standing}\n");
        }

        return text.ToString();
    }

    /// <summary>One object a crew: its sheet.</summary>
    public static string Json(IReadOnlyList<CoachingSheet> sheets, CrewReview review, IReadOnlyList<CorrectionsWorked> corrections)
    {
        var text = new StringBuilder();
        foreach (var s in sheets)
        {
            text.Append(JsonSerializer.Serialize(new
            {
                crew_id = s.CrewId,
                judged = s.Judged,
                enough = s.Enough,
                population = "all_follow_ups",
                goes_well = s.GoesWell.Select(Row),
                habits = s.Habits.Select(h => new { habit = Row(h.Standing), what = h.Words.What, where = h.Words.Where, change = h.Words.Change, peer_rate = R(h.Standing.PeerRate), examples = h.Examples.Select(e => new { install_id = e.InstallId, visit_id = e.VisitId, seen_on = e.SeenOn }) }),
                changes = s.Changes.Select(c => new { compared = c.Compared, direction = c.Direction, charted_from = c.ChartedFrom, charted_installs = c.Charted, charted_observed = c.Observed, charted_expected = R(c.Expected), signalled_after = c.SignalledAfter, signalled_on = c.SignalledOn, signal_chance = R(c.SignalChance), false_signal_chance = R(c.FalseSignalChance), run_length = R(c.RunLength) }),
                quarters = s.Quarters.Select(q => new { compared = q.Compared, quarter = q.Quarter, judged = q.Judged, observed = q.Observed, expected_rate = R(q.ExpectedRate), limit_low = R(q.Limits.Low), limit_high = R(q.Limits.High) }),
                comparisons = Standings([s], review).Select(Row),
                corrections = corrections.Where(c => c.CrewId == s.CrewId).Select(c => new { technician_id = c.TechnicianId, correction = c.Correction, visits = c.Visits, judged = c.Judged, worked = c.Worked, rate_low = R(c.Limits.Low), rate_high = R(c.Limits.High) }),
            }, Compact)).Append('\n');
        }

        return text.ToString();
    }

    private static object Row(CrewStanding c) => new
    {
        compared = c.Compared,
        judged = c.Judged,
        observed = c.Observed,
        rate = R((double)c.Observed / c.Judged),
        expected_count = R(c.Expected),
        ratio = R(c.Ratio),
        ratio_low = R(c.RatioLimits.Low),
        ratio_high = R(c.RatioLimits.High),
        adjusted_rate = R(c.AdjustedRate),
        shrunken_ratio = R(c.Shrunken),
        p_value = R(c.P),
        q_value = R(c.Q),
        standing = c.Standing,
    };

    private static IEnumerable<CrewStanding> Standings(IReadOnlyList<CoachingSheet> sheets, CrewReview review) =>
        review.Rates.Concat(review.Mistakes).SelectMany(c => c.Crews).Where(c => sheets.Any(s => s.CrewId == c.CrewId)).OrderBy(c => c.CrewId, StringComparer.Ordinal);

    private static string Cell(CrewStanding? r) => r is null ? "-" : !r.IsCompared ? $"{Percent(r.Observed, r.Judged)}, too few" : string.Create(CultureInfo.InvariantCulture,
        $"{Percent(r.Observed, r.Judged)} -> {100 * r.AdjustedRate:0} % ({Span(new(100 * r.AdjustedLimits.Low, 100 * r.AdjustedLimits.High), "0")}) {r.Standing.Replace('_', ' ')}");

    private static string Percent(int hits, int of) => string.Create(CultureInfo.InvariantCulture, $"{100.0 * hits / of:0} %");

    private static string Span(Interval i, string format) => $"{i.Low.ToString(format, CultureInfo.InvariantCulture)} to {i.High.ToString(format, CultureInfo.InvariantCulture)}";

    private static string Until(DateOnly? until) => until is { } day ? string.Create(CultureInfo.InvariantCulture, $", as known on {day:yyyy-MM-dd}") : "";

    private static double? R(double value) => double.IsFinite(value) ? Math.Round(value, 6) : null;

    private static string N(double value) => double.IsFinite(value) ? value.ToString("0.######", CultureInfo.InvariantCulture) : "";
}
