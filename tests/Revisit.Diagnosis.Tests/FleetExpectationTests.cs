using Revisit.Physics;
using Xunit.Abstractions;

namespace Revisit.Diagnosis.Tests;

/// <summary>The fleet teaches what its own sound systems read, and never what its faults read.</summary>
public sealed class FleetExpectationTests(ITestOutputHelper output)
{
    /// <summary>What a class of one kind learns when a share of it has a fault, and every unit reads off the model alike.</summary>
    private static double[] Learned(FaultKind kind, double severity, double faulty, double offF, int readings = 1_500)
    {
        var (sample, fleet, rules, m, judged) = (new PerturbedSample(31), new FleetExpectation(), new FindingRules(), new MetricSet(), new Judgement());
        var made = 0;
        var last = default(ReadingInputs);
        while (made < readings)
        {
            var x = sample.Next(sample.Uniform() < faulty ? kind : null, severity).Inputs with { RatedEer = 12 };
            if (x.Refrigerant != "R-410A" || x.HasOrifice)
            {
                continue;
            }

            // The whole class reads a little off the model, as another make would.
            last = x with { SupplyDb = x.SupplyDb - offF };
            ReadingMetrics.Compute(last, m);
            rules.Judge(last, m, judged);
            fleet.Add(last, rules.Residuals, judged);
            made++;
        }

        var shift = fleet.ShiftFor(last);
        return shift.IsEmpty ? new double[ResidualSet.Count] : shift.ToArray();
    }

    [Theory]
    [InlineData(FaultKind.AirflowHigh, 0.25)]
    [InlineData(FaultKind.AirflowLow, 0.2)]
    [InlineData(FaultKind.ChargeLow, 0.15)]
    [InlineData(FaultKind.ChargeHigh, 0.15)]
    public void A_class_with_thirty_percent_of_one_fault_does_not_learn_the_fault(FaultKind kind, double severity)
    {
        var (clean, planted) = (Learned(kind, severity, 0, 0), Learned(kind, severity, 0.3, 0));
        output.WriteLine($"{kind}: split {clean[0]:0.0} without the fault, {planted[0]:0.0} with it planted in 30 %; subcooling {clean[3]:0.0}, {planted[3]:0.0}");
        Assert.InRange(Math.Abs(planted[(int)Residual.Split] - clean[(int)Residual.Split]), 0, 0.99);
        Assert.InRange(Math.Abs(planted[(int)Residual.Subcooling] - clean[(int)Residual.Subcooling]), 0, 0.99);
    }

    [Fact]
    public void A_class_that_reads_off_the_model_is_learned()
    {
        var shift = Learned(FaultKind.ChargeLow, 0.15, 0.1, 1.2);
        Assert.InRange(shift[(int)Residual.Split], 0.6, 1.4);
    }

    [Fact]
    public void Few_readings_teach_nothing()
    {
        Assert.All(Learned(FaultKind.ChargeLow, 0.15, 0, 1.2, FleetExpectation.Fewest / 2), s => Assert.Equal(0, s));
    }

    [Fact]
    public void What_is_written_is_read_back()
    {
        var (sample, fleet, rules, m, judged) = (new PerturbedSample(5), new FleetExpectation(), new FindingRules(), new MetricSet(), new Judgement());
        for (var i = 0; i < 400; i++)
        {
            var x = sample.Next(null, 0).Inputs with { RatedEer = 12 };
            ReadingMetrics.Compute(x, m);
            rules.Judge(x, m, judged);
            fleet.Add(x, rules.Residuals, judged);
        }

        var path = Path.GetTempFileName();
        try
        {
            using (var file = File.Create(path))
            {
                fleet.Write(file);
            }

            Assert.NotEqual("", fleet.Summary());
            Assert.Equal(fleet.Summary(), FleetExpectation.Read(path).Summary());
        }
        finally
        {
            File.Delete(path);
        }
    }
}
