using Revisit.Records;

namespace Revisit.Forecast.Tests;

public sealed class ForecastStageTests
{
    [Fact]
    public void A_planted_rule_is_found_in_later_follow_ups_and_beats_the_baselines()
    {
        using var fleet = new TestFleet(2500);
        var card = fleet.Run().Card;
        Assert.Equal(["airflow", "charge"], card.Questions.Select(q => q.Question));
        foreach (var question in card.Questions)
        {
            Assert.True(question.Kind is "logistic" or "boosted_trees", question.Kind);
            Assert.Equal(question.TrainRows, question.TrainedRows);
            var test = question.Results[0];
            Assert.True(test.Positives >= 20, $"{question.Question}: {test.Positives} corrections in the test part say too little");
            var rate = (double)test.Positives / test.Rows;
            var model = test.Contenders[question.Kind];
            Assert.True(model["pr_auc"].Low > rate + 0.15, $"{question.Question}: PR-AUC {model["pr_auc"]}, rate {rate}");
            Assert.True(model["pr_auc"].Value > test.Contenders["random"]["pr_auc"].Value + 0.2);
            Assert.True(model["pr_auc"].Value > test.Contenders["crew_rate"]["pr_auc"].Value + 0.2);
            Assert.All(["crew_rate", "finding_only", "random"], k => Assert.True(test.PrAucGainOver[k].Low > 0, $"{question.Question}: gain over {k} {test.PrAucGainOver[k]}"));
            Assert.Equal(Math.Min(1, 0.1 * model["lift_top_10_pct"].Value!.Value), model["caught_top_10_pct"].Value!.Value, 1e-6);
            Assert.Equal(rate, test.Contenders["random"]["pr_auc"].Value!.Value, 1e-6);
            Assert.Equal(1, test.Contenders["random"]["lift_top_10_pct"].Value!.Value, 1e-6);
            Assert.True(model["lift_top_10_pct"].Value > 2);
            Assert.True(model["brier"].Value < rate * (1 - rate), "worse than saying the rate to all");
            Assert.True(model["calibration_error"].Value < 0.08, $"{question.Question}: calibration error {model["calibration_error"]}");
        }
    }

    [Fact]
    public void Each_month_looks_back_on_what_it_said()
    {
        using var fleet = new TestFleet(1500);
        fleet.Run(asOf: new(2026, 3, 31));
        fleet.Run(asOf: new(2026, 3, 30)); // said again for the same month: the last stands
        fleet.Run();
        using var session = fleet.Lake.OpenSession();
        List<string> Rows(string sql)
        {
            using var reader = session.Query(sql);
            var rows = new List<string>();
            while (reader.Read())
            {
                rows.Add(string.Join(' ', Enumerable.Range(0, reader.FieldCount).Select(c => reader.GetValue(c) is double d ? Math.Round(d, 9) : reader.GetValue(c))));
            }

            return rows;
        }

        var expected = Rows($"""
            WITH hits AS (
                SELECT p.scored_on, population, p.p_airflow_correction AS chance, f.needed_airflow_correction AS needed
                FROM past_scores AS p JOIN follow_ups AS f ON f.install_id = p.install_id AND f.followed_up_on > p.scored_on
                JOIN (VALUES ('all_follow_ups'), ('quality_checks')) AS k(population) ON population = 'all_follow_ups' OR f.follow_up_kind = 'quality_check'
                WHERE f.followed_up_on <= DATE '{TestFleet.AsOf:yyyy-MM-dd}' AND p.scored_on < DATE '{TestFleet.AsOf:yyyy-MM-dd}')
            SELECT scored_on, population, count(*), sum(needed), avg(chance), avg((chance - needed) ** 2) FROM hits GROUP BY ALL ORDER BY ALL
            """);
        Assert.Equal(2, expected.Count);
        Assert.Equal(["1"], Rows("SELECT count(DISTINCT scored_on) FROM look_back WHERE scored_on = DATE '2026-03-30'"));
        Assert.Equal(expected, Rows("SELECT scored_on, population, follow_ups, corrections, mean_chance, brier FROM look_back WHERE question = 'airflow' ORDER BY ALL"));
        Assert.Equal(["0"], Rows("SELECT count(*) FROM look_back WHERE follow_ups < 30 AND population = 'all_follow_ups'"));
        Assert.Equal(["0"], Rows("SELECT count(*) FROM look_back WHERE population = 'quality_checks' AND follow_ups > 0 AND (is_apart = 1) IS DISTINCT FROM (mean_chance < rate_low OR mean_chance > rate_high)"));
    }

    [Fact]
    public void Trees_are_taken_where_only_they_can_see_the_rule()
    {
        // One of two wrong, but not both: no weighing of the two by themselves finds it.
        using var fleet = new TestFleet(2500, change: p =>
        {
            for (var i = 0; i < p.FollowUps.Rows; i++)
            {
                var odd = (p.Metrics.Number("split_error_f")[i] < -1.5) ^ (p.Metrics.Number("subcooling_error_f")[i] < 0);
                if (p.FollowUps.Whole("needed_airflow_correction")[i] is not null)
                {
                    p.FollowUps.Whole("needed_airflow_correction")[i] = (odd ? i % 10 > 1 : i % 10 == 0) ? 1 : 0;
                }
            }
        });
        var question = fleet.Run().Card.Questions[0];
        Assert.True(question.Kind == "boosted_trees" && question.Choice[^1].Taken, string.Join("; ", question.Choice));
        Assert.True(question.Results[0].PrAucGainOver["logistic"].Low > 0, $"{question.Results[0].PrAucGainOver["logistic"]}");
    }

    [Fact]
    public void Nothing_planted_nothing_found()
    {
        using var fleet = new TestFleet(2500, planted: false);
        foreach (var question in fleet.Run().Card.Questions)
        {
            var test = question.Results[0];
            var rate = (double)test.Positives / test.Rows;
            Assert.Equal("finding_scaled", question.Kind);
            Assert.True(test.Contenders["finding_scaled"]["calibration_error"].Value < 0.1, "scaled to a rate that the finding says nothing of");
            Assert.Contains("not better beyond noise", question.NoModelBecause, StringComparison.Ordinal);
            Assert.All(question.Choice, c => Assert.False(c.Taken, $"{c}"));
            Assert.All(["logistic", "boosted_trees"], k => Assert.True(test.Contenders[k]["pr_auc"].Low < rate + 0.05));
        }
    }

    [Fact]
    public void Two_runs_give_the_same_bits()
    {
        using var one = new TestFleet(900);
        using var other = new TestFleet(900);
        var (a, b) = (one.Run(), other.Run());
        Assert.NotEmpty(a.Scores.Text("install_id"));
        Assert.Equal(a.Scores.Number("p_airflow_correction").Select(BitConverter.DoubleToInt64Bits), b.Scores.Number("p_airflow_correction").Select(BitConverter.DoubleToInt64Bits));
        Assert.Equal(a.Scores.Number("p_charge_correction").Select(BitConverter.DoubleToInt64Bits), b.Scores.Number("p_charge_correction").Select(BitConverter.DoubleToInt64Bits));
        Assert.Equal(a.CardBytes, b.CardBytes);
        string Hashes(TestFleet f) => string.Join('|', f.Lake.ReadCatalog().Entries.Select(e => e.Sha256));
        Assert.Equal(Hashes(one), Hashes(other));
    }

    [Fact]
    public void Only_recent_installs_without_a_follow_up_are_scored()
    {
        using var fleet = new TestFleet(900);
        var scores = fleet.Run().Scores;
        using var session = fleet.Lake.OpenSession();
        using var reader = session.Query("""
            SELECT install_id FROM follow_ups
            WHERE follow_up_state = 'none_yet' AND installed_on BETWEEN DATE '2026-01-01' AND DATE '2026-06-30' ORDER BY install_id
            """);
        var expected = new List<string>();
        while (reader.Read())
        {
            expected.Add(reader.GetString(0));
        }

        Assert.NotEmpty(expected);
        Assert.Equal(expected, scores.Text("install_id"));
    }

    [Fact]
    public void An_earlier_day_reads_nothing_later()
    {
        var day = new DateOnly(2026, 2, 28);
        using var whole = new TestFleet(900);
        using var blanked = new TestFleet(900, change: p =>
        {
            for (var i = 0; i < p.FollowUps.Rows; i++)
            {
                if (p.FollowUps.Day("followed_up_on")[i] > day)
                {
                    p.FollowUps.Text("follow_up_state")[i] = "none_yet";
                    p.FollowUps.Day("followed_up_on")[i] = null;
                    p.FollowUps.Whole("needed_airflow_correction")[i] = null;
                    p.FollowUps.Whole("needed_charge_correction")[i] = null;
                }
            }
        });
        var (a, b) = (whole.Run(asOf: day), blanked.Run(asOf: day));
        Assert.Equal(a.Scores.Text("install_id"), b.Scores.Text("install_id"));
        Assert.Equal(a.Scores.Number("p_airflow_correction"), b.Scores.Number("p_airflow_correction"));
        Assert.Equal(a.CardBytes, b.CardBytes);
    }

    [Fact]
    public void Too_few_follow_ups_fall_back_to_the_findings_and_say_so()
    {
        using var fleet = new TestFleet(300, followedUpShare: 0.1);
        var (scores, _, card, _) = fleet.Run();
        Assert.All(card.Questions, q => Assert.Equal("finding_only", q.Kind));
        Assert.All(card.Questions, q => Assert.Contains("too few follow-ups", q.NoModelBecause, StringComparison.Ordinal));
        Assert.All(scores.Text("model_version"), v => Assert.Contains("finding_only", v, StringComparison.Ordinal));
        Assert.All(scores.Text("score_because"), s => Assert.Contains("not learned from follow-ups", s, StringComparison.Ordinal));
        using var session = fleet.Lake.OpenSession();
        var features = FeatureReader.Features(session, TestFleet.AsOf, 20).ToDictionary(f => f.InstallId);
        for (var r = 0; r < scores.Rows; r++)
        {
            var f = features[scores.Text("install_id")[r]!];
            Assert.Equal(f["p_airflow_high"] + f["p_airflow_low"], scores.Number("p_airflow_correction")[r], 12);
            Assert.Equal(f["p_charge_high"] + f["p_charge_low"], scores.Number("p_charge_correction")[r], 12);

            // What moved the score is the finding, named where it points to the question; without it there is no score.
            Assert.Equal(f.Finding!.StartsWith("airflow", StringComparison.Ordinal), scores.Text("score_because")[r]!.Contains("%: start-up finding airflow", StringComparison.Ordinal));
            Assert.Equal(f.Finding.StartsWith("charge", StringComparison.Ordinal), scores.Text("score_because")[r]!.Contains("%: start-up finding charge", StringComparison.Ordinal));
            Assert.NotNull(Question.UnreadableBecause(f with { Finding = null }));
        }
    }

    [Fact]
    public void An_empty_lake_gives_empty_tables()
    {
        using var fleet = new TestFleet(0);
        var (scores, worklist, card, _) = fleet.Run();
        Assert.Equal(0, scores.Rows);
        Assert.Equal(0, worklist.Rows);
        Assert.All(card.Questions, q => Assert.Equal(0, q.Labels));
    }

    [Fact]
    public void Installs_without_an_install_day_are_counted_and_left_out()
    {
        using var fleet = new TestFleet(100, change: p => p.FollowUps.Day("installed_on")[99] = null);
        var (scores, _, card, _) = fleet.Run();
        Assert.Equal(1, card.WithoutInstallDay);
        Assert.DoesNotContain("I00099", scores.Text("install_id"));
    }

    [Fact]
    public void What_cannot_be_judged_or_was_never_seen_gets_no_score_and_a_reason()
    {
        using var fleet = new TestFleet(900, change: p =>
        {
            var last = p.Installs.Rows - 1;
            foreach (var i in new[] { last, last - 1, last - 2, last - 3 })
            {
                p.FollowUps.Text("follow_up_state")[i] = "none_yet";
                p.FollowUps.Day("followed_up_on")[i] = null;
            }

            p.Findings.Text("finding")[last] = "cannot_judge";
            p.Findings.Text("cannot_judge_because")[last] = "ran 4 minutes; let it run 15";
            p.Metrics.Number("split_error_f")[last - 1] = 40;
            p.Installs.Text("refrigerant")[last - 2] = "R-407C";
            p.FollowUps.Text("commissioning_visit_id")[last - 3] = "never";
        });
        var (scores, worklist, _, _) = fleet.Run();
        void Abstains(string install, string words)
        {
            var r = Array.IndexOf(scores.Text("install_id"), install);
            Assert.True(r >= 0, install);
            Assert.True(double.IsNaN(scores.Number("p_airflow_correction")[r]));
            Assert.True(double.IsNaN(scores.Number("p_charge_correction")[r]));
            Assert.Null(scores.Text("score_because")[r]);
            Assert.Contains(words, scores.Text("abstains_because")[r], StringComparison.Ordinal);
            Assert.DoesNotContain(install, worklist.Text("install_id"));
        }

        Abstains("I00899", "ran 4 minutes");
        Abstains("I00898", "split_error_f 40");
        Abstains("I00897", "R-407C");
        Abstains("I00896", "no judged reading");
        Assert.Contains(scores.Text("abstains_because"), a => a is null);
    }

    [Fact]
    public void The_reason_names_the_readings_that_moved_the_score()
    {
        using var fleet = new TestFleet(2500);
        var (_, worklist, _, _) = fleet.Run();
        Assert.InRange(worklist.Rows, 1, 120);
        var first = worklist.Text("score_because")[0]!;
        var tops = Enumerable.Range(0, worklist.Rows).Where(r => worklist.Number("p_airflow_correction")[r] > 0.5).ToList();
        Assert.NotEmpty(tops);
        Assert.All(tops, r => Assert.Matches(@"^airflow \d+ %: .*(split .* °F under expected|tap high|tons)", worklist.Text("score_because")[r]));
        Assert.Contains("charge", first, StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_out_of_range_are_all_named()
    {
        var error = Assert.Throws<UserError>(() => new ForecastSettings { LookBackDays = 0, TestShare = 0.9 }.Validate());
        Assert.Equal(2, error.Problems.Count);
    }

    [Fact]
    public void Removing_a_named_reading_moves_the_chance_down()
    {
        // Every word of a reason is a reading that raised the chance: without it the model gives less.
        using var fleet = new TestFleet(2500);
        using var session = fleet.Lake.OpenSession();
        var features = FeatureReader.Features(session, TestFleet.AsOf, 20);
        var labels = FeatureReader.Labels(session, TestFleet.AsOf);
        var named = 0;
        foreach (var question in new[] { Question.Airflow, Question.Charge })
        {
            var model = QuestionModel.Build(question, ForecastStage.Join(question, features, labels), TestFleet.Quick);
            List<InstallFeatures> installs = [.. features.Where(f => f.InstalledOn > TestFleet.AsOf.AddDays(-60))];
            var chances = model.Score(installs);
            var reasons = ScoreReasons.Of(model, installs, chances);
            for (var i = 0; i < installs.Count; i++)
            {
                var words = reasons[i][(reasons[i].IndexOf(": ", StringComparison.Ordinal) + 2)..].Split(", ");
                foreach (var (_, numbers, categories) in ReadingWords.Groups.Where(g => ReadingWords.Of(g.Name, installs[i]) is { } w && words.Contains(w)))
                {
                    named++;
                    Assert.True(model.Score([installs[i].Without(numbers, categories)])[0] < chances[i], $"{installs[i].InstallId}: {reasons[i]}");
                }
            }
        }

        Assert.True(named > 100, $"only {named} readings were named");
    }

    [Theory]
    [InlineData(0)]
    [InlineData(6)]
    public void A_drifted_month_is_flagged_and_a_usual_one_is_not(double shift)
    {
        using var fleet = new TestFleet(900, change: p =>
        {
            for (var i = 0; i < p.Metrics.Rows; i++)
            {
                if (p.Metrics.Day("visited_on")[i] > TestFleet.AsOf.AddDays(-30))
                {
                    p.Metrics.Number("subcooling_error_f")[i] += shift;
                }
            }
        });
        var (scores, _, card, _) = fleet.Run();
        Assert.Equal(shift == 0 ? [] : ["subcooling_error_f"], card.Drift.Select(d => d.Feature));
        Assert.All(scores.Text("model_version"), v => Assert.Equal(shift > 0, v!.Contains("of late other than learned from: subcooling_error_f", StringComparison.Ordinal)));
    }
}
