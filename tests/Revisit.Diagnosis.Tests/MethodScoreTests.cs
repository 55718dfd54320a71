using Xunit.Abstractions;

namespace Revisit.Diagnosis.Tests;

/// <summary>
/// How the method does on readings whose truth is known: perturbed units of the equipment model (made data; what holds here holds for
/// these units). Outcomes in the terms of Yuill and Braun (Purdue 2012).
/// </summary>
public sealed class MethodScoreTests(ITestOutputHelper output)
{
    private static readonly Lazy<MethodScore> Score = new(() => MethodScore.Of(new PerturbedSample(2026), 300));

    [Fact]
    public void Sound_systems_are_seldom_accused()
    {
        output.WriteLine(Score.Value.ToText());
        var sound = Score.Value.Rows[0];
        Assert.Equal("sound", sound.Fault);
        Assert.InRange((double)sound.FalseAlarm / sound.Readings, 0, 0.06);
    }

    [Fact]
    public void Airflow_off_by_a_fifth_and_charge_by_15_percent_are_found_and_seldom_mistaken()
    {
        var clear = Score.Value.Rows.Where(r => (r.Fault.StartsWith("airflow", StringComparison.Ordinal) && r.Severity >= 0.2) || (r.Fault.StartsWith("charge", StringComparison.Ordinal) && r.Severity >= 0.15)).ToList();
        Assert.Equal(12, clear.Count);
        Assert.InRange(clear.Average(r => (double)r.Correct / r.Readings), 0.85, 1);
        Assert.InRange(clear.Average(r => (double)r.Misdiagnosed / r.Readings), 0, 0.05);
    }

    [Fact]
    public void Larger_faults_are_found_more_often()
    {
        foreach (var fault in Score.Value.Rows.GroupBy(r => r.Fault).Where(g => g.Key.StartsWith("airflow", StringComparison.Ordinal) || g.Key.StartsWith("charge", StringComparison.Ordinal)))
        {
            var rows = fault.OrderBy(r => r.Severity).ToList();
            Assert.True(rows[0].Correct < rows[2].Correct && rows[2].Correct < rows[^1].Correct + 0.05 * rows[2].Readings, fault.Key);
        }
    }

    [Fact]
    public void Stated_probabilities_come_true()
    {
        foreach (var (stated, right, findings) in Score.Value.Calibration(several: false).Where(c => c.Stated < 0.9))
        {
            // Within five points, and what chance allows a bin of this size.
            Assert.True(Math.Abs(right - stated) < 0.05 + 2 * Math.Sqrt(stated * (1 - stated) / findings), $"{stated:0.00} stated, {right:0.00} right of {findings}");
        }
    }

    private static readonly (string Name, Func<ReadingInputs, ReadingInputs> Without)[] Inputs =
    [
        ("suction pressure", x => x with { SuctionPressure = double.NaN }), ("liquid pressure", x => x with { LiquidPressure = double.NaN }),
        ("suction line", x => x with { SuctionLine = double.NaN }), ("liquid line", x => x with { LiquidLine = double.NaN }),
        ("supply dry bulb", x => x with { SupplyDb = double.NaN }), ("return wet bulb", x => x with { ReturnWb = double.NaN }),
        ("return dry bulb", x => x with { ReturnDb = double.NaN }), ("outdoor", x => x with { OutdoorDb = double.NaN }),
        ("measured airflow", x => x with { Airflow = double.NaN }), ("running time", x => x with { MinutesRunning = double.NaN }),
        ("target subcooling", x => x with { TargetSubcooling = double.NaN }), ("elevation", x => x with { Elevation = x.Elevation == 0 ? double.NaN : x.Elevation }),
    ];

    private static double Certainty(IEnumerable<ReadingInputs> readings) => readings.Average(x =>
    {
        var judged = Worked.Judge(x);
        return judged.Usable ? judged.Probabilities.Max() : 0;
    });

    [Fact]
    public void Leaving_a_value_out_never_makes_the_method_surer_on_average()
    {
        var sample = new PerturbedSample(7);
        var readings = Enumerable.Range(0, 1_000).Select(_ => sample.NextOfPrior().Inputs).ToList();
        var all = Certainty(readings);
        foreach (var (name, without) in Inputs)
        {
            var less = Certainty(readings.Select(without));
            output.WriteLine($"without {name}: {less:0.000} against {all:0.000}");
            Assert.True(less <= all + 0.002, $"without {name} {less:0.000}, with it {all:0.000}");
        }
    }

    [Fact]
    public void Noise_makes_it_less_sure_of_sound_systems()
    {
        var sample = new PerturbedSample(8);
        var sound = Enumerable.Range(0, 1_000).Select(_ => sample.Next(null, 0).Inputs).ToList();
        double InLine(double limit) => sound.Average(x =>
        {
            double Off() => limit * (2 * sample.Uniform() - 1);
            return Worked.Judge(x with { SupplyDb = x.SupplyDb + Off(), SuctionLine = x.SuctionLine + Off(), LiquidLine = x.LiquidLine + Off(), OutdoorDb = x.OutdoorDb + Off() }).Probabilities[Causes.InLine] is var p && double.IsNaN(p) ? 0 : p;
        });
        var (none, some, much) = (InLine(0), InLine(2), InLine(5));
        output.WriteLine($"in line: {none:0.000}, with ±2 °F more {some:0.000}, with ±5 °F more {much:0.000}");
        Assert.True(none > some && some > much);
    }
}
