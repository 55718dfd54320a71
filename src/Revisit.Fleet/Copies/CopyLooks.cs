using Revisit.Fleet.Statistics;
using Revisit.Records;

namespace Revisit.Fleet.Copies;

/// <summary>
/// Which crews' quarters look copied, as a question and never as an accusation: visits that repeat earlier ones, last digits that are not even, spread too
/// small at like conditions. A quarter is asked about when its chance, adjusted over all crews and quarters, is below <see cref="CopyLimits.Asked"/>: where chances hold, at most that
/// share of fleets has a quarter asked about that is not copied, whoever else copies.
/// </summary>
public static class CopyLooks
{
    /// <summary>Looks at all readings of a fleet.</summary>
    public static (IReadOnlyList<CopyQuestion> Questions, IReadOnlyList<RepeatedVisit> Repeated) Look(IEnumerable<CopyReading> readings)
    {
        var all = readings.OrderBy(r => r.CrewId, StringComparer.Ordinal).ThenBy(r => r.VisitedAt).ThenBy(r => r.VisitId, StringComparer.Ordinal).ThenBy(r => r.ReadingNo).ToList();
        var within = Repeats.WithinVisits(all);
        var crews = all.GroupBy(r => r.CrewId).Select(g => g.ToList()).ToList();
        var repeated = crews.AsParallel().AsOrdered().SelectMany(c => Repeats.Find(c, within)).ToList();
        var named = repeated.Select(r => r.Visit.VisitId).ToHashSet(StringComparer.Ordinal);

        // One reading a visit: readings of a visit are alike. Repeated visits are asked about already and would only repeat digits.
        var quarters = crews.Select(c => (Steps: LastDigits.StepsOf(LastOf(c)), Quarters: LastOf(c).GroupBy(r => r.Quarter).Select(g => g.ToList()).ToList())).ToList();
        static List<CopyReading> LastOf(List<CopyReading> crew) => [.. crew.GroupBy(r => r.VisitId).Select(v => v.Last())];
        List<CopyReading> Unnamed(List<CopyReading> quarter) => [.. quarter.Where(r => !named.Contains(r.VisitId))];
        var spread = new Spread(quarters.SelectMany(q => q.Quarters).Select(Unnamed));

        List<CopyQuestion> questions = [];
        foreach (var (steps, quarter) in quarters.SelectMany(c => c.Quarters.Select(q => (c.Steps, q))))
        {
            var rest = Unnamed(quarter);
            var question = new CopyQuestion(quarter[0].CrewId, quarter[0].Quarter) { Visits = quarter.Count, RepeatedVisits = quarter.Count - rest.Count };
            question.RepeatChance = Tails.BinomialAtLeast(question.RepeatedVisits, question.Visits, Repeats.Named);
            (question.Digits, question.DigitChiSquare, question.DigitChance) = LastDigits.Test(rest, steps);
            (question.SpreadColumn, question.SpreadRatio, question.SpreadChance) = spread.Test(rest);
            question.Chance = Math.Min(1, CopyLimits.Looks * new[] { question.RepeatChance, question.DigitChance, question.SpreadChance }.Where(p => !double.IsNaN(p)).Min());
            questions.Add(question);
        }

        var adjusted = Holm([.. questions.Select(q => q.Chance)]);
        for (var i = 0; i < questions.Count; i++)
        {
            questions[i].AdjustedChance = adjusted[i];
        }

        return (questions, repeated);
    }

    /// <summary>
    /// Adjusted chances of Holm (1979), Scand. J. Statist. 6:65 (from memory): the chance that any honest quarter is at most q is at most q. Holding the share of
    /// false ones among those asked would ask honest crews more often where another copies much.
    /// </summary>
    private static double[] Holm(IReadOnlyList<double> chances)
    {
        var adjusted = new double[chances.Count];
        var most = 0.0;
        foreach (var (rank, i) in Enumerable.Range(0, chances.Count).OrderBy(i => chances[i]).Index())
        {
            adjusted[i] = most = Math.Max(most, Math.Min(1, chances[i] * (chances.Count - rank)));
        }

        return adjusted;
    }
}
