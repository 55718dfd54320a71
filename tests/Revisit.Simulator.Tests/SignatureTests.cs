namespace Revisit.Simulator.Tests;

/// <summary>Directions in which a fault must move the true values of a system at 80/67 °F indoors, by metering.</summary>
public sealed class SignatureTests
{
    private const double SeaLevel = 101_325;

    private static Install Unit(bool fixedOrifice) => new()
    {
        No = 1,
        Id = "T-1",
        Branch = Scenario.Branches[0],
        Crew = Scenario.Crews[0],
        InstalledOn = new DateOnly(2026, 7, 1),
        Tons = 3,
        Refrigerant = "R-410A",
        Metering = fixedOrifice ? "fixed_orifice" : "txv",
        TargetSubcooling = fixedOrifice ? double.NaN : 10,
        LineSetFt = 25,
        Motor = "psc",
        DuctLocation = "basement",
        IndoorUnit = "furnace_coil",
        OutdoorUnit = "air_conditioner",
        DesignCfm = 1_200,
        SupplyRuns = 10,
        RatedBtuh = 36_000,
        RatedEer = 12,
        ElevationFt = 0,
        Latitude = 0,
        Longitude = 0,
        Own = default,
        State = new SystemState(),
    };

    private static SystemState Air(double ratio, double charge = 1, OtherFault other = OtherFault.None, double severity = 0) =>
        new() { AtFittingTap = ratio, Charge = charge, Other = other, Severity = severity };

    private static Running Run(bool fixedOrifice, SystemState state, double outdoorF, double minutes = 60)
    {
        var ratio = Simulator.Air.Ratio(80, 67, SeaLevel);
        return SoundSystem.Run(Unit(fixedOrifice), state, new Weather(outdoorF, 80, ratio), minutes, SeaLevel);
    }

    private static double Split(Running r) => 80 - r.SupplyDryF;
    private static double Superheat(Running r) => r.SuctionF - r.EvaporatingF;
    private static double Subcooling(Running r) => r.CondensingF - r.LiquidF;

    /// <summary>Split, evaporating, superheat, subcooling and condensing over outdoor as the steady-state model gives them; superheat within 2.5 °F, the rest within 1.5 °F.</summary>
    [Theory]
    [InlineData(false, 82, 21.3, 46.6, 10.5, 10.0, 18.2)]
    [InlineData(false, 95, 20.6, 48.0, 10.0, 10.0, 18.1)]
    [InlineData(true, 82, 21.3, 45.6, 21.6, 6.7, 18.1)]
    [InlineData(true, 95, 20.7, 48.0, 12.0, 6.0, 18.1)]
    public void SoundSystemsReadAsTheModelsBase(bool fixedOrifice, double outdoor, double split, double evaporating, double superheat, double subcooling, double over)
    {
        // The volume that makes 400 standard cfm per ton of the return air.
        var density = Simulator.Air.Density(80, Simulator.Air.Ratio(80, 67, SeaLevel), SeaLevel) / Simulator.Air.StandardDensity;
        var run = Run(fixedOrifice, Air(1 / density), outdoor);
        Assert.Equal(split, Split(run), 1.5);
        Assert.Equal(evaporating, run.EvaporatingF, 1.5);
        Assert.Equal(superheat, Superheat(run), 2.5);
        Assert.Equal(subcooling, Subcooling(run), 1.5);
        Assert.Equal(over, run.CondensingF - outdoor, 1.5);
    }

    [Theory]
    [InlineData(false, 82)]
    [InlineData(false, 95)]
    [InlineData(true, 82)]
    [InlineData(true, 95)]
    public void TooMuchAirLowersTheSplitAndRaisesSuctionAndLeavesSubcooling(bool fixedOrifice, double outdoor)
    {
        Running sound = Run(fixedOrifice, Air(1), outdoor), high = Run(fixedOrifice, Air(1.3), outdoor), low = Run(fixedOrifice, Air(0.7), outdoor);
        Assert.True(Split(high) < Split(sound) - 1.5);
        Assert.True(Split(low) > Split(sound) + 1.5);
        Assert.True(high.EvaporatingF > sound.EvaporatingF + 0.5);
        Assert.True(low.EvaporatingF < sound.EvaporatingF - 0.5);
        Assert.Equal(Subcooling(sound), Subcooling(high), 0.6);
        Assert.Equal(Subcooling(sound), Subcooling(low), 0.6);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void LittleChargeTakesSubcoolingAndGivesSuperheat(bool fixedOrifice)
    {
        Running sound = Run(fixedOrifice, Air(1), 85), low = Run(fixedOrifice, Air(1, 0.85), 85), high = Run(fixedOrifice, Air(1, 1.15), 85);
        Assert.True(Subcooling(low) < Subcooling(sound) - 2);
        Assert.True(Superheat(low) > Superheat(sound) + 3);
        Assert.True(Split(low) < Split(sound));
        Assert.True(Subcooling(high) > Subcooling(sound) + 2);
        if (fixedOrifice)
            Assert.True(Superheat(high) < Superheat(sound) - 4);
        else
            Assert.Equal(Superheat(sound), Superheat(high), 2.0); // the valve holds
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void OtherFaultsPartAsTheTablesSay(bool fixedOrifice)
    {
        var sound = Run(fixedOrifice, Air(1), 90);
        var restricted = Run(fixedOrifice, Air(1, 1, OtherFault.LiquidRestriction, 0.4), 90);
        Assert.True(Superheat(restricted) > Superheat(sound) + 8 && Subcooling(restricted) > Subcooling(sound)); // charge loss would take subcooling
        var condenser = Run(fixedOrifice, Air(1, 1, OtherFault.CondenserAirflowLow, 0.4), 90);
        var gas = Run(fixedOrifice, Air(1, 1, OtherFault.NonCondensables, 0.5), 90);
        Assert.True(condenser.CondensingF > sound.CondensingF + 4 && condenser.LiquidF > sound.LiquidF + 4);
        Assert.True(gas.CondensingF > sound.CondensingF + 4 && gas.LiquidF < sound.LiquidF + 2);
        var weak = Run(fixedOrifice, Air(1, 1, OtherFault.CompressorWeak, 0.25), 90);
        Assert.True(weak.EvaporatingF > sound.EvaporatingF + 2 && weak.CondensingF < sound.CondensingF - 1 && weak.Capacity < sound.Capacity - 0.1);
    }

    [Fact]
    public void AnEarlyReadingIsNotSteady()
    {
        Running early = Run(false, Air(1), 85, minutes: 5), steady = Run(false, Air(1), 85, minutes: 20);
        Assert.True(Split(early) < Split(steady) - 1);
        Assert.True(Superheat(early) > Superheat(steady) + 2);
        Assert.True(Subcooling(early) < Subcooling(steady) - 1);
    }

    [Fact]
    public void DrierAirSplitsMore()
    {
        static double At(double wet) => 78 - SoundSystem.Run(Unit(false), Air(1), new Weather(90, 78, Simulator.Air.Ratio(78, wet, SeaLevel)), 60, SeaLevel).SupplyDryF;
        Assert.True(At(58) > At(64) + 2);
        Assert.True(At(64) > At(69) + 2);
    }

    [Fact]
    public void TheGeneratorIsFlatAndItsStreamsAreUnlike()
    {
        var rng = new Rng(1, 1, 1);
        var values = Enumerable.Range(0, 100_000).Select(_ => rng.Uniform()).ToArray();
        Assert.Equal(0.5, values.Average(), 0.005);
        foreach (var lag in new[] { 1, 2, 17, 33, 34, 35, 55 })
            Assert.InRange(Enumerable.Range(0, values.Length - lag).Average(i => (values[i] - 0.5) * (values[i + lag] - 0.5)) * 12, -0.02, 0.02);
        Rng left = new(1, 2, 1), right = new(1, 3, 1);
        Assert.InRange(Enumerable.Range(0, 100_000).Average(_ => (left.Uniform() - 0.5) * (right.Uniform() - 0.5)) * 12, -0.02, 0.02);
        var normals = Enumerable.Range(0, 100_000).Select(_ => rng.Normal(0, 1)).ToArray();
        Assert.Equal(1, normals.Average(n => n * n), 0.03);
    }
}
