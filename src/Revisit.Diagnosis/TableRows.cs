using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>Identity columns that metrics and findings share.</summary>
internal sealed class IdentityRows(Batch batch)
{
    private readonly string?[] visit = batch.Text("visit_id");
    private readonly int?[] reading = batch.Whole("reading_no");
    private readonly string?[] install = batch.Text("install_id");
    private readonly string?[] crew = batch.Text("crew_id");
    private readonly DateOnly?[] day = batch.Day("visited_on");

    public void Put(int i, ReadingColumns columns, int row)
    {
        visit[i] = columns.VisitId[row];
        reading[i] = columns.ReadingNo[row];
        install[i] = columns.InstallId[row];
        crew[i] = columns.CrewId[row];
        day[i] = columns.VisitedOn[row];
    }
}

/// <summary>Rows of the metrics table.</summary>
internal sealed class MetricRows
{
    private readonly IdentityRows identity;
    private readonly double[][] values;
    private readonly double[][] sds;
    private readonly string?[][] missing;

    public MetricRows(int rows)
    {
        Batch = new(Tables.Metrics, rows);
        identity = new(Batch);
        values = [.. Tables.MetricColumns.Select(Batch.Number)];
        sds = [.. Tables.MetricColumns.Select(c => Batch.Number(c + "_sd"))];
        missing = [.. Tables.MetricColumns.Select(c => Batch.Text(c + "_missing"))];
    }

    public Batch Batch { get; }

    public void Put(int i, ReadingColumns columns, int row, MetricSet m)
    {
        identity.Put(i, columns, row);
        for (var c = 0; c < values.Length; c++)
        {
            ref readonly var metric = ref m[(MetricId)c];
            values[c][i] = metric.Value;
            sds[c][i] = metric.Sd;
            missing[c][i] = metric.Missing;
        }
    }
}

/// <summary>Rows of the findings table.</summary>
internal sealed class FindingRows
{
    private readonly IdentityRows identity;
    private readonly string?[] finding, reasons, because;
    private readonly double[] probability, severity, capacity, energy;
    private readonly double[][] causes;

    public FindingRows(int rows)
    {
        Batch = new(Tables.Findings, rows);
        identity = new(Batch);
        finding = Batch.Text("finding");
        reasons = Batch.Text("reasons");
        because = Batch.Text("cannot_judge_because");
        probability = Batch.Number("probability");
        severity = Batch.Number("severity");
        capacity = Batch.Number("capacity_loss_pct");
        energy = Batch.Number("extra_energy_pct");
        causes = [.. Causes.All.Select(c => Batch.Number("p_" + c))];
    }

    public Batch Batch { get; }

    public void Put(int i, ReadingColumns columns, int row, Judgement judged)
    {
        identity.Put(i, columns, row);
        finding[i] = judged.Finding;
        reasons[i] = judged.Reasons;
        because[i] = judged.CannotJudgeBecause;
        probability[i] = judged.Probability;
        severity[i] = judged.Severity;
        capacity[i] = judged.CapacityLossPct;
        energy[i] = judged.ExtraEnergyPct;
        for (var c = 0; c < causes.Length; c++)
        {
            causes[c][i] = judged.Probabilities[c];
        }
    }
}
