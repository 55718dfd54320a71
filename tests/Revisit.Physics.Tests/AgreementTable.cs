using Xunit.Abstractions;

namespace Revisit.Physics.Tests;

/// <summary>Prints how well each quantity agrees with each source, and holds the tolerances.</summary>
public class AgreementTable(ITestOutputHelper output)
{
    [Fact]
    public void Every_quantity_agrees_with_every_source()
    {
        Agreement[] all = [.. SaturationAgreements.All(), .. MoistAirAgreements.All(), .. EquipmentAgreements.All()];
        output.WriteLine($"{"quantity",-62} {"source",-46} {"rows",5} {"worst",10} {"median",10} {"tolerance",10}");
        foreach (Agreement agreement in all) output.WriteLine(agreement.ToString());
        Assert.True(all.Length > 60, "The table has lost rows.");
        Assert.All(all, agreement => Assert.True(agreement.Holds, agreement.ToString()));
    }

    [Fact]
    public void An_error_beyond_the_tolerance_is_seen()
    {
        Assert.True(new Agreement("q", "s", [0.01, 0.05], 0.05).Holds);
        Assert.False(new Agreement("q", "s", [0.01, 0.0501], 0.05).Holds);
        Assert.False(new Agreement("q", "s", [0.01, double.NaN], 0.05).Holds);
        Assert.False(new Agreement("q", "s", [], 0.05).Holds);
        Assert.True(new Agreement("q", "s", [0.01, 0.06], 0.05, Share: 0.5).Holds);
        Assert.False(new Agreement("q", "s", [0.01, 0.06], 0.05, Share: 0.6).Holds);
    }
}
