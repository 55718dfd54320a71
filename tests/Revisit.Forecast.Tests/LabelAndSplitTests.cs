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
}
