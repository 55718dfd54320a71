using System.Globalization;
using Revisit.Records;

namespace Revisit.Forecast.Tests;

public sealed class LabelAndSplitTests
{
    [Fact]
    public void A_censored_install_is_never_a_label()
    {
        // Even a row that wrongly carries an answer is not one while its state says none yet.
        using var fleet = new TestFleet(300, change: p =>
        {
            for (var i = 0; i < 300; i++)
            {
                if (p.FollowUps.Text("follow_up_state")[i] == "none_yet")
                {
                    p.FollowUps.Whole("needed_airflow_correction")[i] = 1;
                    p.FollowUps.Whole("needed_charge_correction")[i] = 0;
                    p.FollowUps.Day("followed_up_on")[i] = i % 2 == 0 ? p.FollowUps.Day("installed_on")[i] : null;
                }
            }
        });
        using var session = fleet.Lake.OpenSession();
        var features = FeatureReader.Features(session, TestFleet.AsOf, 20);
        var labelled = ForecastStage.Join(Question.Airflow, features, FeatureReader.Labels(session, TestFleet.AsOf)).Select(l => l.Install.InstallId).Order().ToList();
        using var reader = session.Query("SELECT install_id FROM follow_ups WHERE follow_up_state = 'observed' ORDER BY install_id");
        var observed = new List<string>();
        while (reader.Read())
        {
            observed.Add(reader.GetString(0));
        }

        Assert.InRange(observed.Count, 50, 250);
        Assert.Equal(observed, labelled);
    }

    [Fact]
    public void The_split_is_by_time_and_shares_no_install()
    {
        using var fleet = new TestFleet(600);
        using var session = fleet.Lake.OpenSession();
        var features = FeatureReader.Features(session, TestFleet.AsOf, 20);
        var labels = ForecastStage.Join(Question.Charge, features, FeatureReader.Labels(session, TestFleet.AsOf));
        var split = TimeSplit.Of(labels, 0.25);
        Assert.Equal(labels.Count, split.Train.Count + split.Test.Count);
        Assert.Empty(split.Train.Select(l => l.Install.InstallId).Intersect(split.Test.Select(l => l.Install.InstallId)));
        Assert.True(split.Train.Max(l => l.FollowedUpOn) < split.Test.Min(l => l.FollowedUpOn));
        Assert.InRange((double)split.Test.Count / labels.Count, 0.2, 0.3);
        Assert.Throws<ArgumentException>(() => TimeSplit.Of(labels.Append(labels[0]), 0.25));
    }

    [Fact]
    public void Charge_left_alone_in_the_cold_gives_no_answer()
    {
        using var fleet = new TestFleet(300, change: p =>
        {
            for (var i = 0; i < 300; i++)
            {
                p.FollowUps.Text("follow_up_visit_id")[i] = p.Readings.Text("visit_id")[i];
                p.Readings.Number("outdoor_db_f")[i] = i % 2 == 0 ? 54 : 55;
            }
        });
        using var session = fleet.Lake.OpenSession();
        var labels = FeatureReader.Labels(session, TestFleet.AsOf);
        Assert.Equal(labels.Count(l => int.Parse(l.InstallId[1..], CultureInfo.InvariantCulture) % 2 == 0 && l.Charge != true), labels.Count(l => l.Charge is null));
        Assert.Contains(labels, l => l.Charge is null);
        Assert.All(labels, l => Assert.NotNull(l.Airflow));
    }

    [Fact]
    public void Chances_speak_for_all_installs_where_enough_had_a_planned_check()
    {
        // Complaints bring faulty installs: six in ten among them, two in ten among those checked without regard to faults.
        var install = new InstallFeatures("I", "C", "north", new(2026, 1, 1), new double[FeatureQuery.Numbers.Count], new string?[FeatureQuery.Categories.Count], null, "in_line", null);
        List<LabelledInstall> Rows(int planned) =>
        [
            .. Enumerable.Range(0, 500).Select(i => new LabelledInstall(install, new(2026, 3, 1), "callback", i % 10 < 6)),
            .. Enumerable.Range(0, planned).Select(i => new LabelledInstall(install, new(2026, 3, 1), "quality_check", i % 10 < 2, 8)),
        ];
        double Chance(int planned, ForecastSettings settings) => ChanceScale.Fit([.. Rows(planned).Select(r => new HeldOut(r, 0))], settings).Of(0);
        Assert.Equal(0.2, Chance(300, new()), 0.01);
        Assert.Equal(0.45, Chance(300, new() { WeighPlannedChecks = false }), 0.01);
        Assert.Equal((300 + 8) / 540.0, Chance(40, new()), 0.01);
    }

    [Fact]
    public void A_weight_counts_as_so_many_rows()
    {
        double[] scores = [-2, -1, 0, 1, 2];
        bool[] needed = [false, true, false, true, true];
        var weighted = ChanceScale.Fit(scores, needed, [1.0, 2, 3, 1, 2]);
        var repeated = ChanceScale.Fit([-2, -1, -1, 0, 0, 0, 1, 2, 2], [false, true, true, false, false, false, true, true, true]);
        Assert.All(scores, s => Assert.Equal(repeated.Of(s), weighted.Of(s), 6));
    }

    [Fact]
    public void One_check_in_four_stands_for_four()
    {
        using var fleet = new TestFleet(400);
        using (var publication = fleet.Lake.BeginPublication())
        {
            var visits = new Batch(Tables.Visits, 100);
            for (var i = 0; i < 100; i++)
            {
                visits.Text("visit_id")[i] = $"Q{i:000}";
                visits.Text("install_id")[i] = $"I{4 * i:00000}";
                visits.Text("visit_kind")[i] = i % 2 == 0 ? "quality_check" : "maintenance";
                visits.Day("visited_on")[i] = TestFleet.AsOf;
            }

            publication.Put(visits.Table, "2026-06", [visits]);
            publication.Commit();
        }

        using var session = fleet.Lake.OpenSession();
        var weights = Selection.Weights(session, FeatureReader.Features(session, TestFleet.AsOf, 20), TestFleet.AsOf);
        Assert.Equal(50, weights.Count);
        Assert.All(weights.Keys, i => Assert.Equal(0, int.Parse(i[1..], CultureInfo.InvariantCulture) % 8));
        Assert.Equal(400, weights.Values.Sum(), 1e-6);
        Assert.Empty(Selection.Weights(session, FeatureReader.Features(session, TestFleet.AsOf, 20), TestFleet.AsOf.AddDays(-1)));
    }
}
