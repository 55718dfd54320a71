using Revisit.Fleet.Statistics;

namespace Revisit.Fleet.Crews;

/// <summary>
/// Crews compared by indirect standardisation: a logistic regression without crews gives each install its chance (<see cref="CaseMix"/>), a crew's installs sum to what was to be expected
/// of it. The test is exact given those chances (Poisson-binomial), its deviate corrected for the crew's own part in the regression.
/// </summary>
public sealed class CrewComparison
{
    /// <summary>Rows of the regression at most; beyond, every second, third, … install is fitted, which leaves the chances as they are but for their last digits.</summary>
    private const int MostFitted = 20_000;

    /// <summary>Installs beyond which the sum of chances is normal enough.</summary>
    private const int Exact = 1_000;

    private const double Ridge = 1;

    /// <summary>
    /// A crew that is above the others at this level, over all crews (Bonferroni), is left out of the regression, so that the others are not held against its mistakes; at most a third of the
    /// crews. Charts are set up so: what is plainly out of control is set aside before the limits are drawn (common practice, no source).
    /// </summary>
    private const double Bar = 0.001;

    private const int Rounds = 3;

    /// <summary>Least share of its variance that the regression must leave a crew; less says that hardly another crew does such work.</summary>
    private const double LeastVariance = 0.1;

    private readonly double[] chances;
    private readonly Lazy<Dictionary<ComparedInstall, int>> places;

    private CrewComparison(string compared, SeenInstalls? seen)
    {
        (Compared, chances) = (compared, new double[seen?.Installs.Count ?? 0]);
        places = new(() => seen!.Installs.Index().ToDictionary(i => i.Item, i => i.Index, (IEqualityComparer<ComparedInstall>)ReferenceEqualityComparer.Instance));
    }

    /// <summary>What is compared, one of <see cref="ComparedInstall.Columns"/>.</summary>
    public string Compared { get; }

    /// <summary>Every crew with an install that was seen, by crew.</summary>
    public IReadOnlyList<CrewStanding> Crews { get; private set; } = [];

    /// <summary>Distribution of the crews' ratios that shrinkage rests on.</summary>
    public GammaPoisson Spread { get; private set; }

    /// <summary>Chance of an install by its work.</summary>
    public double ChanceOf(ComparedInstall install) => chances[places.Value[install]];

    /// <summary>Every how many-th of so many rows a regression takes.</summary>
    internal static int Every(int rows) => Math.Max(1, (rows + MostFitted - 1) / MostFitted);

    /// <summary>Compares all crews by one thing.</summary>
    /// <param name="installs">All installs.</param>
    /// <param name="compared">One of <see cref="ComparedInstall.Columns"/>.</param>
    public static CrewComparison Of(IEnumerable<ComparedInstall> installs, string compared) => Of(SeenInstalls.Of(installs, compared), compared);

    /// <summary>Compares all crews by one thing on the installs on which it could be seen.</summary>
    internal static CrewComparison Of(SeenInstalls? seen, string compared)
    {
        var result = new CrewComparison(compared, seen);
        if (seen is null)
        {
            return result;
        }

        var at = ComparedInstall.IndexOf(compared);
        bool[] happened = [.. seen.Installs.Select(i => i.Seen[at] == true)];
        HashSet<string> apart = [];
        List<(CrewStanding Standing, double Variance)> crews = [];
        for (var round = 0; round < Rounds; round++)
        {
            crews = result.Compare(seen, happened, apart);
            var bar = Bar / crews.Count(c => c.Standing.IsCompared);
            var found = crews.Where(c => c.Standing is { IsCompared: true, Z: > 0 } && c.Standing.P <= bar).Select(c => c.Standing.CrewId).ToHashSet(StringComparer.Ordinal);
            if (found.SetEquals(apart) || found.Count > crews.Count / 3)
            {
                break;
            }

            apart = found;
        }

        double[] scores = [.. crews.Where(c => c.Standing.IsCompared).Select(c => c.Standing.Z)];
        var dispersion = scores.Length < 4 ? 1 : Funnel.Dispersion(Funnel.Winsorise(scores));
        // An install can have it only once, so a count varies less than a Poisson count: all are scaled to the count whose Poisson spread the ratio has.
        double Scaled((CrewStanding Standing, double Variance) c) => c.Standing.Expected * c.Standing.Expected / c.Variance;
        var spread = GammaPoisson.Fit([.. crews.Select(c => c.Standing.Ratio * Scaled(c))], [.. crews.Select(Scaled)]);
        result.Spread = spread;
        result.Crews =
        [
            .. crews.Select(c => c.Standing with
            {
                Dispersion = dispersion,
                FunnelLimits = Funnel.RatioLimits(Scaled(c), dispersion, 0.998),
                Shrunken = spread.Mean(c.Standing.Ratio * Scaled(c), Scaled(c)),
                ShrunkenLimits = spread.Posterior(c.Standing.Ratio * Scaled(c), Scaled(c)),
            }),
        ];
        return result;
    }

    private List<(CrewStanding Standing, double Variance)> Compare(SeenInstalls seen, bool[] happened, HashSet<string> apart)
    {
        int[] peers = [.. Enumerable.Range(0, happened.Length).Where(i => !apart.Contains(seen.Installs[i].CrewId))];
        var every = Every(peers.Length);
        int[] fitted = [.. peers.Where((_, k) => k % every == 0)];
        var fit = LogisticFit.Of([.. fitted.Select(seen.Work.RowOf)], [.. fitted.Select(i => happened[i])], Ridge);
        var (hits, fleetRate) = (happened.Count(h => h), peers.Average(i => happened[i] ? 1.0 : 0));
        List<(CrewStanding Standing, double Variance)> crews = [];
        foreach (var (crew, members) in seen.Crews)
        {
            var (own, variance) = fit.Score(seen.Work.RowsOf(members), every, !apart.Contains(crew));
            foreach (var (k, i) in members.Index())
            {
                chances[i] = own[k];
            }

            var observed = members.Count(i => happened[i]);
            var plain = own.Sum(p => p * (1 - p));
            var others = happened.Length - members.Length;
            var z = !(variance > LeastVariance * plain) || others == 0 ? double.NaN
                : own.Length > Exact ? (observed - own.Sum()) / Math.Sqrt(variance)
                : Tails.HitsDeviate(observed, own) * Math.Sqrt(plain / variance);
            crews.Add((new(crew, Compared)
            {
                Judged = members.Length,
                Observed = observed,
                Expected = own.Sum(),
                FleetRate = fleetRate,
                PeerRate = others > 0 ? (double)(hits - observed) / others : double.NaN,
                Z = z,
            }, Math.Max(variance, LeastVariance * plain)));
        }

        return crews;
    }

    /// <summary>Holds false discoveries over all crews and all comparisons together; crews with too few installs are left out.</summary>
    public static void HoldDiscoveries(IEnumerable<CrewComparison> comparisons)
    {
        var all = comparisons.SelectMany(c => c.Crews).Where(c => c.IsCompared).ToList();
        var q = Tails.BenjaminiHochberg([.. all.Select(c => c.P)]);
        for (var i = 0; i < all.Count; i++)
        {
            all[i].Q = q[i];
        }
    }
}
