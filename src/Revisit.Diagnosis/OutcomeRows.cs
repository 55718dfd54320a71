using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>
/// Compares the first as-found with the last as-left reading of each visit. Which readings those are is known beforehand; what they say
/// may be kept in any order and from several threads.
/// </summary>
internal sealed class OutcomeRows
{
    private readonly ReadingColumns columns;
    private readonly List<Visit> visits = [];
    private readonly OutcomeSide?[] sides;
    private readonly bool[] needed;
    private readonly bool[] orifice;

    /// <param name="columns">The readings.</param>
    /// <param name="order">Their rows in visit and reading order.</param>
    public OutcomeRows(ReadingColumns columns, int[] order)
    {
        this.columns = columns;
        (sides, needed, orifice) = (new OutcomeSide?[order.Length], new bool[order.Length], new bool[order.Length]);
        for (var start = 0; start < order.Length;)
        {
            var (end, found, left, corrections) = (start, -1, -1, 0);
            for (; end < order.Length && columns.VisitId[order[end]] == columns.VisitId[order[start]]; end++)
            {
                var phase = columns.Phase[order[end]];
                found = found < 0 && phase == "as_found" ? end : found;
                left = phase == "as_left" ? end : left;
                corrections |= Bits(columns.Correction[order[end]]);
            }

            if (found >= 0 && left >= 0)
            {
                (needed[found], needed[left], needed[end - 1]) = (true, true, true);
                visits.Add(new(order[end - 1], end - 1, found, left, corrections));
            }

            start = end;
        }
    }

    /// <summary>Keeps what a reading says, where an outcome needs it.</summary>
    public void Keep(int place, in ReadingInputs x, MetricSet m, Judgement judged, ResidualSet residuals)
    {
        if (needed[place])
        {
            orifice[place] = x.HasOrifice;
            sides[place] = OutcomeSide.Of(m, judged, residuals);
        }
    }

    public Batch ToBatch()
    {
        var batch = new Batch(Tables.VisitOutcomes, visits.Count);
        var (visit, install, crew, day) = (batch.Text("visit_id"), batch.Text("install_id"), batch.Text("crew_id"), batch.Day("visited_on"));
        var (foundFinding, leftFinding, correction) = (batch.Text("as_found_finding"), batch.Text("as_left_finding"), batch.Text("correction"));
        var (outcome, because) = (batch.Text("outcome"), batch.Text("outcome_because"));
        var (split, superheat, subcooling) = (batch.Number("split_change_f"), batch.Number("superheat_change_f"), batch.Number("subcooling_change_f"));
        Parallel.For(0, visits.Count, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            var v = visits[i];
            var (found, left) = (sides[v.Found]!, sides[v.Left]!);
            var text = v.Corrections == 0 ? null : string.Join('+', Codes.Correction.Where((_, c) => (v.Corrections & (1 << c)) != 0));
            (outcome[i], because[i]) = OutcomeRules.Judge(found, left, text, orifice[v.Last]);
            (visit[i], install[i], crew[i], day[i]) = (columns.VisitId[v.Row], columns.InstallId[v.Row], columns.CrewId[v.Row], columns.VisitedOn[v.Row]);
            (foundFinding[i], leftFinding[i], correction[i]) = (found.Finding, left.Finding, text);
            (split[i], superheat[i], subcooling[i]) = (left.Split - found.Split, left.Superheat - found.Superheat, left.Subcooling - found.Subcooling);
        });
        return batch;
    }

    /// <summary>One bit a code of a correction.</summary>
    private static int Bits(string? correction)
    {
        var bits = 0;
        foreach (var part in correction.AsSpan().Split('+'))
        {
            for (var c = 0; c < Codes.Correction.Count; c++)
            {
                bits |= correction.AsSpan(part).SequenceEqual(Codes.Correction[c]) ? 1 << c : 0;
            }
        }

        return bits;
    }

    /// <summary>A visit with both sides: the row and place of its last reading, the places of its first as found and last as left.</summary>
    private readonly record struct Visit(int Row, int Last, int Found, int Left, int Corrections);
}
