namespace Revisit.Forecast.Tests;

public sealed class LeakGuardTests
{
    private static readonly ForecastSettings Settings = new();

    [Fact]
    public void No_feature_looks_ahead()
    {
        using var fleet = new TestFleet(400);
        using var session = fleet.Lake.OpenSession();
        var features = FeatureReader.Features(session, TestFleet.AsOf, 20);
        var days = LeakGuard.Sample(features, 25);
        Assert.Equal(25, days.Count);
        Assert.Empty(LeakGuard.Check(session, FeatureQuery.Sql(20), TestFleet.AsOf, days));
    }

    [Theory]
    [InlineData("days_to_follow_up", "(SELECT any_value(days_to_follow_up) FROM follow_ups f WHERE f.install_id = q.install_id)")]
    [InlineData("needed", "(SELECT any_value(needed_airflow_correction) FROM follow_ups f WHERE f.install_id = q.install_id)")]
    [InlineData("crew_rate_ever", "(SELECT avg(needed_airflow_correction) FROM follow_ups f WHERE f.crew_id = q.crew_id)")]
    [InlineData("fleet_readings", "(SELECT count(*) FROM readings)")]
    public void A_planted_leak_is_caught(string name, string leak)
    {
        using var fleet = new TestFleet(400);
        using var session = fleet.Lake.OpenSession();
        var query = $"SELECT q.*, {leak} AS {name} FROM ({FeatureQuery.Sql(20)}) q";
        var days = LeakGuard.Sample(FeatureReader.Features(session, TestFleet.AsOf, 20), 5);
        var leaks = LeakGuard.Check(session, query, TestFleet.AsOf, days);
        Assert.NotEmpty(leaks);
        Assert.All(leaks, l => Assert.Equal(name, l.Feature));
        var error = Assert.Throws<InvalidOperationException>(() => LeakGuard.Require(session, query, TestFleet.AsOf, days));
        Assert.Contains(name, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_query_cannot_read_round_the_cut() =>
        Assert.Throws<ArgumentException>(() => LakeCut.At(TestFleet.AsOf, "SELECT * FROM main.follow_ups"));

    [Fact]
    public void A_reading_after_the_install_day_is_not_a_feature()
    {
        using var fleet = new TestFleet(50, change: p =>
        {
            p.Readings.Day("visited_on")[10] = p.Installs.Day("installed_on")[10]!.Value.AddDays(3);
            p.Readings.Text("visit_kind")[10] = "callback";
        });
        using var session = fleet.Lake.OpenSession();
        var features = FeatureReader.Features(session, TestFleet.AsOf, 20);
        Assert.Null(features[10].Finding);
        Assert.True(double.IsNaN(features[10]["split_error_f"]));
        Assert.NotNull(features[11].Finding);
    }

    [Fact]
    public void A_crew_rate_counts_only_earlier_follow_ups_and_is_shrunk()
    {
        using var fleet = new TestFleet(400);
        using var session = fleet.Lake.OpenSession();
        var labels = FeatureReader.Labels(session, TestFleet.AsOf);
        var features = FeatureReader.Features(session, TestFleet.AsOf, Settings.CrewPriorFollowUps);
        var crews = features.ToDictionary(f => f.InstallId, f => f.CrewId);
        Assert.True(double.IsNaN(features[0]["crew_airflow_rate"]), "nothing was known on the first day");
        foreach (var f in features.Where((_, i) => i % 37 == 36))
        {
            var earlier = labels.Where(l => l.FollowedUpOn < f.InstalledOn).ToList();
            var crew = earlier.Where(l => crews[l.InstallId] == f.CrewId).ToList();
            var fleetRate = earlier.Count == 0 ? double.NaN : (double)earlier.Count(l => l.Airflow == true) / earlier.Count;
            var expected = (crew.Count(l => l.Airflow == true) + 20 * fleetRate) / (crew.Count + 20);
            Assert.Equal(expected, f["crew_airflow_rate"], 12);
        }
    }
}
