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
        for (var i = 0; i < visits.Count; i++)
        {
            var v = visits[i];
            var (found, left) = (sides[v.Found]!, sides[v.Left]!);
            var text = v.Corrections == 0 ? null : string.Join('+', Codes.Correction.Where((_, c) => (v.Corrections & (1 << c)) != 0));
            var (outcome, because) = OutcomeRules.Judge(found, left, text, orifice[v.Last]);
            batch.Text("visit_id")[i] = columns.VisitId[v.Row];
            batch.Text("install_id")[i] = columns.InstallId[v.Row];
            batch.Text("crew_id")[i] = columns.CrewId[v.Row];
            batch.Day("visited_on")[i] = columns.VisitedOn[v.Row];
            batch.Text("as_found_finding")[i] = found.Finding;
            batch.Text("as_left_finding")[i] = left.Finding;
            batch.Text("correction")[i] = text;
            batch.Text("outcome")[i] = outcome;
            batch.Text("outcome_because")[i] = because;
            batch.Number("split_change_f")[i] = left.Split - found.Split;
            batch.Number("superheat_change_f")[i] = left.Superheat - found.Superheat;
            batch.Number("subcooling_change_f")[i] = left.Subcooling - found.Subcooling;
        }

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
