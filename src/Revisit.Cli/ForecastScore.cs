using System.Globalization;
using System.Text;
using Revisit.Forecast;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Cli;

/// <summary>
/// How the forecast does on simulated fleets: what scores against every baseline on follow-ups it had not seen, and its chances against
/// what the simulator knows of installs that nobody had gone back to.
/// </summary>
internal sealed class ForecastScore
{
    /// <summary>The day the scores speak for: a summer's installs lie before it, half their follow-ups after it.</summary>
    private static readonly DateOnly AsOf = new(2026, 8, 31);

    private static readonly string[] Measured = ["pr_auc", "caught_top_10_pct", "caught_top_20_pct", "brier", "calibration_error"];

    // By question: the kind taken on each fleet; by contender and measure, and by contender the gain of what scores over it.
    private readonly Dictionary<string, List<string>> kinds = [];
    private readonly SortedDictionary<(string Question, string Contender, string Measure), List<double>> values = [];
    private readonly SortedDictionary<(string Question, string Contender), List<Measured>> gains = [];
    private readonly SortedDictionary<string, List<(double Chance, bool Faulty)>> unvisited = new(StringComparer.Ordinal);

    /// <summary>Simulates fleets of seeds 1, 2, … and scores each.</summary>
    public static ForecastScore Of(int installs, int fleets)
    {
        var score = new ForecastScore();
        for (var seed = 1; seed <= fleets; seed++)
        {
            Terminal.Progress.Report($"fleet {seed} of {fleets}");
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
                ListOf(gains, (question.Question, contender)).Add(gain);
            }
        }

        var truth = fleet.Truth("truth.csv").ToDictionary(t => t("install_id"), t => (Airflow: Off(t("airflow_over_design"), 0.10), Charge: Off(t("charge_ratio"), 0.05)), StringComparer.Ordinal);
        var scores = ParquetTable.Read(Path.Combine(fleet.Lake.Folder, catalog.Find(Tables.Scores.Name, "all")!.File), Tables.Scores);
        for (var i = 0; i < scores.Rows; i++)
        {
            if (scores.Text("abstains_because")[i] is null)
            {
                var (airflow, charge) = truth[scores.Text("install_id")[i]!];
                ListOf(unvisited, "airflow").Add((scores.Number("p_airflow_correction")[i], airflow));
                ListOf(unvisited, "charge").Add((scores.Number("p_charge_correction")[i], charge));
            }
        }
    }

    private const string Scores = "what scores";

    private static bool Off(string ratio, double letPass) => Math.Abs(double.Parse(ratio, CultureInfo.InvariantCulture) - 1) > letPass;

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
            text.Append("follow-ups not seen    PR-AUC (lowest-highest)   needed corrections caught   Brier  calibration  PR-AUC gain of\n");
            text.Append("                                                  in top 10 %  in top 20 %           error        what scores; shown on\n");
            foreach (var contender in values.Keys.Where(k => k.Question == question).Select(k => k.Contender).Distinct().OrderBy(c => c == Scores ? "" : c, StringComparer.Ordinal))
            {
                var columns = Measured.Select(m => values[(question, contender, m)]).ToList();
                var gain = gains.TryGetValue((question, contender), out var g) && contender != Scores
                    ? string.Create(CultureInfo.InvariantCulture, $"{g.Average(v => v.Value ?? 0):+0.000;-0.000}; {g.Count(v => v.Low > 0)} of {g.Count}")
                    : "";
                text.Append(CultureInfo.InvariantCulture,
                    $"{contender,-22} {columns[0].Average():0.000} ({columns[0].Min():0.000}-{columns[0].Max():0.000})  {Percent(columns[1].Average()),12} {Percent(columns[2].Average()),12}  {columns[3].Average():0.000} {columns[4].Average(),10:0.000}    {gain}\n");
            }

            text.Append('\n');
        }

        foreach (var (question, rows) in unvisited)
        {
            text.Append(CultureInfo.InvariantCulture, $"{question} on installs nobody had gone back to ({rows.Count} scored): chance given, and how many were off by more than is let pass\n");
            foreach (var tenth in rows.OrderBy(r => r.Chance).Chunk(Math.Max(1, (rows.Count + 9) / 10)))
            {
                var (low, high) = Wilson.Interval(tenth.Count(r => r.Faulty), tenth.Length);
                text.Append(CultureInfo.InvariantCulture, $"{Percent(tenth.Average(r => r.Chance)),8} {Percent(tenth.Average(r => r.Faulty ? 1.0 : 0)),8}  ({Percent(low)}-{Percent(high)})\n");
            }

            text.Append('\n');
        }

        return text.ToString();
    }

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{100 * share:0.0} %");
}
