using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>Gathers the first as-found and the last as-left reading of each visit; rows come in visit and reading order.</summary>
internal sealed class OutcomeRows
{
    private readonly List<Row> rows = [];
    private string? visit;
    private OutcomeSide? found;
    private OutcomeSide? left;
    private int lastRow;
    private bool orifice;
    private ReadingColumns? columns;
    private int corrections; // one bit a code

    public void Add(ReadingColumns from, int row, in ReadingInputs x, MetricSet m, Judgement judged, ResidualSet residuals)
    {
        if (from.VisitId[row] != visit)
        {
            Close();
            visit = from.VisitId[row];
        }

        columns = from;
        lastRow = row;
        orifice = x.HasOrifice;
        switch (from.Phase[row])
        {
            case "as_found":
                found ??= OutcomeSide.Of(m, judged, residuals);
                break;
            case "as_left":
                left = OutcomeSide.Of(m, judged, residuals);
                break;
        }

        if (from.Correction[row] is { } text)
        {
            foreach (var part in text.AsSpan().Split('+'))
            {
                for (var c = 0; c < Codes.Correction.Count; c++)
                {
                    corrections |= text.AsSpan(part).SequenceEqual(Codes.Correction[c]) ? 1 << c : 0;
                }
            }
        }
    }

    public Batch ToBatch()
    {
        Close();
        var batch = new Batch(Tables.VisitOutcomes, rows.Count);
        for (var i = 0; i < rows.Count; i++)
        {
            var r = rows[i];
            batch.Text("visit_id")[i] = r.Columns.VisitId[r.Reading];
            batch.Text("install_id")[i] = r.Columns.InstallId[r.Reading];
            batch.Text("crew_id")[i] = r.Columns.CrewId[r.Reading];
            batch.Day("visited_on")[i] = r.Columns.VisitedOn[r.Reading];
            batch.Text("as_found_finding")[i] = r.Found.Finding;
            batch.Text("as_left_finding")[i] = r.Left.Finding;
            batch.Text("correction")[i] = r.Correction;
            batch.Text("outcome")[i] = r.Outcome;
            batch.Text("outcome_because")[i] = r.Because;
            batch.Number("split_change_f")[i] = r.Left.Split - r.Found.Split;
            batch.Number("superheat_change_f")[i] = r.Left.Superheat - r.Found.Superheat;
            batch.Number("subcooling_change_f")[i] = r.Left.Subcooling - r.Found.Subcooling;
        }

        return batch;
    }

    private void Close()
    {
        if (found is not null && left is not null)
        {
            var text = corrections == 0 ? null : string.Join('+', Codes.Correction.Where((_, c) => (corrections & (1 << c)) != 0));
            var (outcome, because) = OutcomeRules.Judge(found, left, text, orifice);
            rows.Add(new(columns!, lastRow, found, left, text, outcome, because));
        }

        (found, left, corrections, visit) = (null, null, 0, null);
    }

    private sealed record Row(ReadingColumns Columns, int Reading, OutcomeSide Found, OutcomeSide Left, string? Correction, string Outcome, string Because);
}
