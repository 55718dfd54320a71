using System.Globalization;
using Revisit.Fleet.Crews;
using Revisit.Fleet.Statistics;
using Revisit.Simulator;
using Xunit.Abstractions;

namespace Revisit.Fleet.Tests;

/// <summary>
/// How often crews are flagged on simulated fleets, with and without planted habits (invented data; see <see cref="SimulatedCrews"/> for what is left out). A test run does a few fleets;
/// REVISIT_FLEETS says how many and REVISIT_FROM from which seed on; <c>results</c> keeps the long run.
/// </summary>
public sealed class CrewSimulationTests(ITestOutputHelper output)
{
    private static readonly int From = Setting("REVISIT_FROM", 1);

    /// <summary>
    /// Fleets in which no crew differs, only its work does: at most one in twenty has any crew set apart at first follow-ups (false discoveries are held at 5 %, and where none is true that is the chance of any),
    /// and as many by recurring mistakes. Raw rates held against one rate for all flag far more.
    /// </summary>
    [Fact]
    public void Where_crews_do_not_differ_few_fleets_have_one_set_apart()
    {
        var (fleets, rates, mistakes, raw) = (Setting("REVISIT_FLEETS", 4), 0, 0, 0);
        for (var seed = From; seed < From + fleets; seed++)
        {
            var installs = SimulatedCrews.Of(new SimulatorSettings { Seed = (ulong)seed, HabitStrength = 0, Installs = Size }).Select(i => i.Install).ToList();
            var review = CrewReview.Of(installs);
            var (apart, recurring, crude) = (Apart(review.Rates), Apart(review.Mistakes), Raw(review.Rates));
            rates += apart.Count > 0 ? 1 : 0;
            mistakes += recurring.Count > 0 ? 1 : 0;
            raw += crude > 0 ? 1 : 0;
            output.WriteLine($"seed {seed}: adjusted {string.Join(", ", apart)}; mistakes {string.Join(", ", recurring)}; raw {crude}");
        }

        output.WriteLine($"{fleets} fleets of {Size} installs: adjusted rates set a crew apart in {rates}, recurring mistakes in {mistakes}, raw rates in {raw}");
        Assert.True(rates <= AtMost(fleets, 0.05), $"{rates} of {fleets}");
        Assert.True(mistakes <= AtMost(fleets, 0.05), $"{mistakes} of {fleets}");
    }

    /// <summary>
    /// A crew of average skill with harder work: eight crews of 80 installs, one of which works in attics, on long lines and in heat in seven of ten installs, the others in two; each raises the log odds by
    /// 0.7. Adjusted rates flag it no more often than any crew where none differs, raw rates nearly always.
    /// </summary>
    [Fact]
    public void A_crew_with_harder_work_and_average_skill_is_not_flagged()
    {
        var (fleets, adjusted, raw, any) = (20 * Setting("REVISIT_FLEETS", 2), 0, 0, 0);
        for (var seed = From; seed < From + fleets; seed++)
        {
            var random = new Rng((ulong)seed, 1, 97);
            var installs = new List<ComparedInstall>();
            for (var n = 0; n < 640; n++)
            {
                var crew = n % 8;
                bool Hard() => random.Chance(crew == 0 ? 0.7 : 0.2);
                var (attic, longLine, heat) = (Hard(), Hard(), Hard());
                var logit = -1.2 + 0.7 * ((attic ? 1 : 0) + (longLine ? 1 : 0) + (heat ? 1 : 0));
                var seen = new bool?[ComparedInstall.Columns.Count];
                seen[0] = random.Chance(1 / (1 + Math.Exp(-logit)));
                installs.Add(new()
                {
                    InstallId = $"{n:000}",
                    CrewId = $"K{crew}",
                    Tons = 2 + random.Below(4),
                    Ducts = attic ? "attic" : "basement",
                    LineFt = longLine ? 60 : 20,
                    Season = heat ? "summer" : "spring",
                    FollowUpOutdoorF = heat ? 95 : 75,
                    Seen = seen,
                });
            }

            CrewComparison[] comparison = [CrewComparison.Of(installs, "airflow")];
            CrewComparison.HoldDiscoveries(comparison);
            var hard = comparison[0].Crews.Single(c => c.CrewId == "K0");
            adjusted += hard.Standing is "more" or "fewer" ? 1 : 0;
            any += Apart(comparison).Count > 0 ? 1 : 0;
            raw += Tails.HitsDeviate(hard.Observed, [.. Enumerable.Repeat(installs.Average(i => i.Seen[0] == true ? 1.0 : 0), hard.Judged)]) > Tails.Deviate(0.025 / 8) ? 1 : 0;
        }

        output.WriteLine($"{fleets} fleets: the crew with harder work is set apart by adjusted rates in {adjusted}, by raw rates (Bonferroni over eight crews) in {raw}; any crew by adjusted rates in {any}");
        Assert.True(any <= AtMost(fleets, 0.05), $"{any} of {fleets}");
        Assert.True(raw > 0.5 * fleets, $"{raw} of {fleets}");
    }

    /// <summary>
    /// The planted habits as records come in: whether each stands apart on the day on which its crew has so many judged installs where the work invites it. A fleet in which the crew never has so many says nothing.
    /// </summary>
    [Fact]
    public void Planted_habits_are_found()
    {
        (string Crew, string Habit)[] planted = [("H1", "tap_high_on_small"), ("H3", "long_line_short"), ("P1", "orifice_overcharged"), ("L1", "read_early"), ("P2", "filter_left"), ("L2", "no_wet_bulb"), ("R3", "filter_left")];
        var (fleets, sizes, wrong) = (Setting("REVISIT_FLEETS", 2), Environment.GetEnvironmentVariable("REVISIT_JUDGED") ?? "40", new SortedDictionary<string, int>(StringComparer.Ordinal));
        int[] judged = [.. sizes.Split(' ').Select(n => int.Parse(n, CultureInfo.InvariantCulture))];
        var (found, reached) = (new int[planted.Length, judged.Length], new int[planted.Length, judged.Length]);
        for (var seed = From; seed < From + fleets; seed++)
        {
            var all = SimulatedCrews.Of(new SimulatorSettings { Seed = (ulong)seed, Installs = 2 * Size }).Select(i => i.Install).ToList();
            for (var p = 0; p < planted.Length; p++)
            {
                var (crew, habit) = planted[p];
                DateOnly?[] days = [.. all.Where(i => i.CrewId == crew && i[habit] is not null).Select(i => i.SeenOn(habit)).Order()];
                for (var n = 0; n < judged.Length && judged[n] <= days.Length; n++)
                {
                    reached[p, n]++;
                    found[p, n] += More([.. all.Select(i => i.KnownBy(days[judged[n] - 1]!.Value))]).Contains(planted[p]) ? 1 : 0;
                }
            }

            foreach (var (crew, habit) in More(all).Except(planted))
            {
                wrong[$"{crew} {habit}"] = wrong.GetValueOrDefault($"{crew} {habit}") + 1;
            }
        }

        output.WriteLine($"{fleets} fleets of {2 * Size} installs from seed {From}");
        for (var p = 0; p < planted.Length; p++)
        {
            output.WriteLine($"{planted[p].Crew} {planted[p].Habit}: found " + string.Join(", ", judged.Select((n, k) => $"in {found[p, k]} of {reached[p, k]} at {n} judged")));
        }

        output.WriteLine("besides, at the end: " + string.Join(", ", wrong.Select(w => $"{w.Key} {w.Value}")));
        Assert.True(found.Cast<int>().Sum() >= 0.8 * reached.Cast<int>().Sum(), $"{found.Cast<int>().Sum()} of {reached.Cast<int>().Sum()}");
    }

    /// <summary>Crews and mistakes that stand above their peers.</summary>
    private static List<(string Crew, string Habit)> More(IReadOnlyList<ComparedInstall> installs)
    {
        var mistakes = Records.Codes.Habit.AsParallel().Select(h => CrewComparison.Of(installs, h)).ToList();
        CrewComparison.HoldDiscoveries(mistakes);
        return [.. mistakes.SelectMany(c => c.Crews).Where(c => c.Standing == "more").Select(c => (c.CrewId, c.Compared))];
    }

    /// <summary>
    /// Shares among all installs, recovered from follow-ups that complaints bring: the interval holds the truth of the fleet (what the crews left) in at least nine of ten fleets, where the share among all
    /// follow-ups is off. Outcomes are those of the day of start-up, so that only the selection is tested, not what ages.
    /// </summary>
    [Fact]
    public void Shares_among_all_installs_are_recovered_from_biased_follow_ups()
    {
        var (fleets, held, naive, cases, off) = (Setting("REVISIT_FLEETS", 4), 0, 0, 0, 0.0);
        for (var seed = From; seed < From + fleets; seed++)
        {
            var installs = SimulatedCrews.Of(new SimulatorSettings { Seed = (ulong)seed, Installs = Size, ComplaintFactor = 3 });
            foreach (var (cause, truth) in new (string, Func<(ComparedInstall Install, bool Airflow, bool Charge), bool>)[] { ("airflow", i => i.Airflow), ("charge", i => i.Charge) })
            {
                var at = ComparedInstall.Columns.ToList().IndexOf(cause);
                var labelled = installs.Select(i =>
                {
                    var seen = new bool?[ComparedInstall.Columns.Count];
                    seen[at] = i.Install.FollowedUpOn is null ? null : truth(i);
                    return i.Install with { Seen = seen };
                }).ToList();
                var real = installs.Average(i => truth(i) ? 1.0 : 0);
                var rates = PopulationRate.Of(labelled, [cause]).ToDictionary(p => p.Population, p => p.Share);
                cases++;
                held += rates["all_installs"].Interval.Holds(real) ? 1 : 0;
                naive += rates["all_follow_ups"].Interval.Holds(real) ? 1 : 0;
                off += rates["all_follow_ups"].Share - real;
                output.WriteLine(FormattableString.Invariant($"seed {seed} {cause}: true {real:0.000}, all follow-ups {rates["all_follow_ups"].Share:0.000}, weighted {rates["all_installs"].Share:0.000} ± {(rates["all_installs"].Interval.High - rates["all_installs"].Interval.Low) / 2:0.000}"));
            }
        }

        output.WriteLine(FormattableString.Invariant($"{fleets} fleets of {Size}, airflow and charge: the weighted interval holds the truth in {held} of {cases}, that of all follow-ups in {naive}; all follow-ups are off by {off / cases:+0.000;-0.000} on the average"));
        Assert.True(held >= AtLeast(cases, 0.9), $"{held} of {cases}");
        Assert.True(naive < held);
    }

    /// <summary>
    /// A crew that gets better halfway (odds to a quarter) shows in its CUSUM about as fast as the chart says, and one that stays shows about as rarely. The installs are made up: 200 a crew, half of them
    /// charted, a chance of 0.25 to 0.55 each.
    /// </summary>
    [Fact]
    public void A_crew_that_improves_shows_and_one_that_does_not_does_not()
    {
        var (fleets, signals, false_, stated, runs, expected, crews) = (10 * Setting("REVISIT_FLEETS", 1), 0, 0, 0.0, 0.0, 0.0, 0);
        for (var seed = From; seed < From + fleets; seed++)
        {
            var random = new Rng((ulong)seed, 1, 98);
            var installs = new List<ComparedInstall>();
            foreach (var crew in Enumerable.Range(0, 8))
            {
                var skill = random.Normal(0, 0.4);
                for (var n = 0; n < 200; n++)
                {
                    var work = 0.25 + 0.1 * (n % 4);
                    var logit = Math.Log(work / (1 - work)) + skill + (crew == 0 && n >= 100 ? Math.Log(0.25) : 0);
                    var seen = new bool?[ComparedInstall.Columns.Count];
                    seen[0] = random.Chance(1 / (1 + Math.Exp(-logit)));
                    installs.Add(new() { InstallId = $"{crew}-{n:000}", CrewId = $"K{crew}", InstalledOn = new DateOnly(2025, 1, 1).AddDays(n * 2), Tons = 2 + n % 4, LineFt = 20, Seen = seen });
                }
            }

            var better = CrewChange.Of(installs, CrewComparison.Of(installs, "airflow")).Where(c => c.Direction == "better").ToList();
            var improving = better.Single(c => c.CrewId == "K0");
            signals += improving.SignalledAfter is null ? 0 : 1;
            runs += improving.SignalledAfter ?? 100;
            expected += improving.RunLength;
            false_ += better.Count(c => c.CrewId != "K0" && c.SignalledAfter is not null);
            stated += better.Where(c => c.CrewId != "K0").Sum(c => c.FalseSignalChance);
            crews += better.Count - 1;
        }

        output.WriteLine(FormattableString.Invariant($"{fleets} crews improving to a quarter of the odds: {signals} signal, after {runs / fleets:0} installs on the average (expected for odds halved {expected / fleets:0}); {false_} of {crews} crews that stay signal, {stated:0.0} stated"));
        Assert.True(signals >= AtLeast(fleets, 0.9), $"{signals} of {fleets}");
        Assert.True(runs <= expected, "odds at a quarter show sooner than halved ones");
        Assert.True(false_ <= AtMost(crews, CrewChange.FalseSignal), $"{false_} of {crews}");
    }

    private static int Size => Setting("REVISIT_INSTALLS", 1_000);

    private static List<string> Apart(IEnumerable<CrewComparison> comparisons) =>
        [.. comparisons.SelectMany(c => c.Crews).Where(c => c.Standing is "more" or "fewer").Select(c => $"{c.CrewId} {c.Compared} {c.Standing}")];

    /// <summary>Crews set apart by raw rates: the same test and the same control of false discoveries, each install with the rate of all.</summary>
    private static int Raw(IEnumerable<CrewComparison> comparisons)
    {
        var p = comparisons.SelectMany(c => c.Crews.Where(k => k.IsCompared).Select(k => (Crew: k, Rate: (double)c.Crews.Sum(o => o.Observed) / c.Crews.Sum(o => o.Judged))))
            .Select(k => Tails.TwoSided(Tails.HitsDeviate(k.Crew.Observed, [.. Enumerable.Repeat(k.Rate, k.Crew.Judged)]))).ToList();
        return Tails.BenjaminiHochberg(p).Count(q => q <= CrewStanding.FalseDiscoveries);
    }

    /// <summary>Most hits that a true share would give in 99 of 100 such tests.</summary>
    private static int AtMost(int of, double share) => Enumerable.Range(0, of + 1).First(k => Tails.BinomialAtLeast(k + 1, of, share) < 0.01);

    private static int AtLeast(int of, double share) => of - AtMost(of, 1 - share);

    private static int Setting(string name, int usual) => int.Parse(Environment.GetEnvironmentVariable(name) ?? usual.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
