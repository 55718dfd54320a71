using System.Globalization;
using System.Text;
using Revisit.Forecast;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>
/// How the forecast does on simulated fleets: what scores against every baseline on follow-ups it had not seen, and its chances against
/// what the simulator knows of installs that nobody had gone back to, and what the worklist made of them is worth.
/// </summary>
internal sealed class ForecastScore
{
    /// <summary>The day the scores speak for: a summer's installs lie before it, half their follow-ups after it.</summary>
    private static readonly DateOnly AsOf = new(2026, 8, 31);

    private static readonly string[] Measured = ["pr_auc", "caught_top_10_pct", "caught_top_20_pct", "brier", "calibration_error"];

    // By question: the kind taken on each fleet; by contender and measure, and by contender the gains of what scores over it.
    private readonly Dictionary<string, List<string>> kinds = [];
    private readonly SortedDictionary<(string Question, string Contender, string Measure), List<double>> values = [];
    private readonly SortedDictionary<(string Question, string Contender), List<(Measured PrAuc, Measured LogScore)>> gains = [];
    private readonly SortedDictionary<string, List<(double Chance, double Unweighted, bool Corrected)>> unvisited = new(StringComparer.Ordinal);
    private readonly OrderScore orders = new();
    private int withoutScore, open;

    /// <summary>Simulates fleets, each of the next seed, and scores each.</summary>
    public static ForecastScore Of(int installs, int fleets, int firstSeed)
    {
        var score = new ForecastScore();
        for (var seed = firstSeed; seed < firstSeed + fleets; seed++)
        {
            Terminal.Progress.Report($"fleet {seed - firstSeed + 1} of {fleets}");
            using var fleet = new SimulatedLake(installs, (ulong)seed, p => ForecastStage.Run(p, new ForecastSettings(), AsOf, Terminal.Progress));
            score.Add(fleet);
        }

        return score;
    }

    private void Add(SimulatedLake fleet)
    {
        var catalog = fleet.Lake.ReadCatalog();
        var card = ModelCard.Parse(File.ReadAllBytes(Path.Combine(fleet.Lake.Folder, catalog.Find("model_card", "all")!.File)));
        foreach (var question in card.Questions.Where(q => q.Results.Count > 0))
        {
            ListOf(kinds, question.Question).Add(question.Kind);
            var test = question.Results[0];
            foreach (var (contender, measures) in test.Contenders)
            {
                foreach (var name in Measured.Where(m => measures[m].Value is not null))
                {
                    ListOf(values, (question.Question, contender == question.Kind ? Scores : contender, name)).Add(measures[name].Value!.Value);
                }
            }

            foreach (var (contender, gain) in test.PrAucGainOver)
            {
                ListOf(gains, (question.Question, contender)).Add((gain, test.LogScoreGainOver[contender]));
            }
        }

        var corrected = CheckedTwin.Of(fleet.Settings);
        var scores = ParquetTable.Read(Path.Combine(fleet.Lake.Folder, catalog.Find(Tables.Scores.Name, "all")!.File), Tables.Scores);
        var unweighted = Unweighted(fleet.Lake);
        for (var i = 0; i < scores.Rows; i++)
        {
            open++;
            if (scores.Text("abstains_because")[i] is not null)
            {
                withoutScore++;
            }
            else if (corrected.TryGetValue(scores.Text("install_id")[i]!, out var found))
            {
                ListOf(unvisited, "airflow").Add((scores.Number("p_airflow_correction")[i], unweighted.Number("p_airflow_correction")[i], found.Airflow));
                ListOf(unvisited, "charge").Add((scores.Number("p_charge_correction")[i], unweighted.Number("p_charge_correction")[i], found.Charge));
            }
        }

        using var session = fleet.Lake.OpenSession();
        orders.Add(session, i => corrected.TryGetValue(i, out var c) ? (c.Airflow ? 1 : 0) + (c.Charge ? 1 : 0) : null, (int)fleet.Settings.Seed);
    }

    /// <summary>Scores of the same lake had chances been calibrated on all follow-ups alike; not kept.</summary>
    private static Batch Unweighted(Lake lake)
    {
        using var publication = lake.BeginPublication();
        ForecastStage.Run(publication, new ForecastSettings { WeighPlannedChecks = false }, AsOf);
        return ParquetTable.Read(publication.PathOf(publication.Pending.Find(Tables.Scores.Name, "all")!), Tables.Scores);
    }

    private const string Scores = "what scores";

    private static List<T> ListOf<TKey, T>(IDictionary<TKey, List<T>> lists, TKey key)
    {
        if (!lists.TryGetValue(key, out var list))
        {
            lists[key] = list = [];
        }

        return list;
    }

    /// <summary>The tables as text.</summary>
    public string ToText()
    {
        var text = new StringBuilder();
        foreach (var (question, taken) in kinds)
        {
            text.Append(CultureInfo.InvariantCulture, $"{question}: {string.Join(", ", taken.CountBy(k => k).OrderBy(k => k.Key, StringComparer.Ordinal).Select(k => $"{k.Key} scores on {k.Value} of {taken.Count} fleets"))}\n");
            text.Append("follow-ups not seen    PR-AUC (lowest-highest)   needed corrections caught   Brier  calibration  gain of PR-AUC            logarithmic score\n");
            text.Append("                                                  in top 10 %  in top 20 %           error        PR-AUC            logarithmic score\n");
            foreach (var contender in values.Keys.Where(k => k.Question == question).Select(k => k.Contender).Distinct().OrderBy(c => c == Scores ? "" : c, StringComparer.Ordinal))
            {
                var columns = Measured.Select(m => values[(question, contender, m)]).ToList();
                var gain = gains.TryGetValue((question, contender), out var g) && contender != Scores
                    ? Gain(g.Select(v => v.PrAuc)) + "   " + Gain(g.Select(v => v.LogScore))
                    : "";
                text.Append(CultureInfo.InvariantCulture,
                    $"{contender,-22} {columns[0].Average():0.000} ({columns[0].Min():0.000}-{columns[0].Max():0.000})  {Percent(columns[1].Average()),12} {Percent(columns[2].Average()),12}  {columns[3].Average():0.000} {columns[4].Average(),10:0.000}    {gain}\n");
            }

            text.Append('\n');
        }

        text.Append(CultureInfo.InvariantCulture, $"{withoutScore} of {open} installs nobody had gone back to got no score\n\n");
        foreach (var (question, rows) in unvisited)
        {
            text.Append(CultureInfo.InvariantCulture, $"{question} on installs nobody had gone back to ({rows.Count} scored): tenths by chance, and how many a planned check would have corrected\n");
            text.Append("weighted to all installs: chance, corrected (95 %), apart        as follow-ups come: chance, corrected, apart\n");
            var (one, other) = (Tenths([.. rows.Select(r => (r.Chance, r.Corrected))]), Tenths([.. rows.Select(r => (r.Unweighted, r.Corrected))]));
            foreach (var (w, u) in one.Zip(other))
            {
                text.Append(CultureInfo.InvariantCulture, $"{Percent(w.Chance),8} {Percent(w.Corrected),8}  ({Percent(w.Low)}-{Percent(w.High)})  {Apart(w),7}              {Percent(u.Chance),8} {Percent(u.Corrected),8}  {Apart(u),7}\n");
            }

            text.Append(CultureInfo.InvariantCulture, $"furthest apart {100 * one.Max(t => Math.Abs(t.Chance - t.Corrected)):0.0} points weighted, {100 * other.Max(t => Math.Abs(t.Chance - t.Corrected)):0.0} as follow-ups come; on average {Points(one.Average(t => t.Chance - t.Corrected))} and {Points(other.Average(t => t.Chance - t.Corrected))}\n\n");
        }

        text.Append(orders.ToText());
        return text.ToString();
    }

    private static List<(double Chance, double Corrected, double Low, double High)> Tenths(List<(double Chance, bool Corrected)> rows) =>
        [.. rows.OrderBy(r => r.Chance).Chunk(Math.Max(1, (rows.Count + 9) / 10)).Select(tenth =>
        {
            var (low, high) = Wilson.Interval(tenth.Count(r => r.Corrected), tenth.Length);
            return (tenth.Average(r => r.Chance), tenth.Average(r => r.Corrected ? 1.0 : 0), low, high);
        })];

    private static string Apart((double Chance, double Corrected, double Low, double High) tenth) => Points(tenth.Chance - tenth.Corrected);

    /// <summary>A difference of shares in points; one that rounds to nothing has no sign.</summary>
    private static string Points(double share) => Math.Round(100 * share, 1).ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);

    private static string Gain(IEnumerable<Measured> gains) => gains.ToList() is var g ? string.Create(CultureInfo.InvariantCulture, $"{g.Average(v => v.Value ?? 0):+0.000;-0.000}; {g.Count(v => v.Low > 0)} of {g.Count}") : "";

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{100 * share:0.0} %");
}
