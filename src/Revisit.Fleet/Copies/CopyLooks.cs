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
        var crews = readings.GroupBy(r => r.CrewId).OrderBy(g => g.Key, StringComparer.Ordinal).AsParallel().AsOrdered().Select(InOrder).ToList();
        var within = Repeats.WithinVisits(crews.Select(c => c.Visits));
        var looked = crews.AsParallel().AsOrdered().Select(c => Look(c.Readings, c.Visits, within)).ToList();
        var quarters = looked.SelectMany(c => c.Quarters).ToList();
        var spread = new Spread(quarters.Select(q => q.Spread));

        List<CopyQuestion> questions = [];
        foreach (var (quarter, named, digits, groups) in quarters)
        {
            var question = new CopyQuestion(quarter[0].CrewId, quarter[0].Quarter) { Visits = quarter.Count, RepeatedVisits = named };
            question.RepeatChance = Tails.BinomialAtLeast(question.RepeatedVisits, question.Visits, Repeats.Named);
            (question.Digits, question.DigitChiSquare, question.DigitChance) = digits;
            (question.SpreadColumn, question.SpreadRatio, question.SpreadChance) = spread.Test(groups);
            question.Chance = Math.Min(1, CopyLimits.Looks * new[] { question.RepeatChance, question.DigitChance, question.SpreadChance }.Where(p => !double.IsNaN(p)).Min());
            questions.Add(question);
        }

        var adjusted = Holm([.. questions.Select(q => q.Chance)]);
        for (var i = 0; i < questions.Count; i++)
        {
            questions[i].AdjustedChance = adjusted[i];
        }

        return (questions, [.. looked.SelectMany(c => c.Repeated)]);
    }

    /// <summary>A crew's readings in order of time, and by visit.</summary>
    private static (List<CopyReading> Readings, List<List<CopyReading>> Visits) InOrder(IEnumerable<CopyReading> crew)
    {
        List<CopyReading> readings = [.. crew.OrderBy(r => r.VisitedAt).ThenBy(r => r.VisitId, StringComparer.Ordinal).ThenBy(r => r.ReadingNo)];
        return (readings, [.. readings.GroupBy(r => r.VisitId).Select(v => v.ToList())]);
    }

    /// <summary>What can be seen in a crew's own readings: the visits that repeat an earlier one, and by quarter the visits, those named, the test of digits and what spread is told from.</summary>
    private static (List<RepeatedVisit> Repeated, List<(List<CopyReading> Visits, int Named, (int, double, double) Digits, SpreadGroups Spread)> Quarters) Look(
        List<CopyReading> crew, List<List<CopyReading>> readings, double[] within)
    {
        // One reading a visit: readings of a visit are alike. Repeated visits are asked about already and would only repeat digits.
        var visits = readings.Select(v => v[^1]).ToList();
        var written = CopyReading.ByColumn(visits, v => v).Select(c => Array.FindAll(c, v => !double.IsNaN(v))).ToArray();
        var repeated = Repeats.Find(crew, written, within).ToList();
        var named = repeated.Select(r => r.Visit.VisitId).ToHashSet(StringComparer.Ordinal);
        var steps = LastDigits.StepsOf(written);
        return (repeated,
        [
            .. visits.GroupBy(r => r.Quarter).Select(g => g.ToList()).Select(quarter =>
            {
                var rest = quarter.Where(r => !named.Contains(r.VisitId)).ToList();
                return (quarter, quarter.Count - rest.Count, LastDigits.Test(rest, steps), SpreadGroups.Of(rest));
            }),
        ]);
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
