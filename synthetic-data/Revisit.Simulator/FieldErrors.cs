namespace Revisit.Simulator;

/// <summary>
/// What field studies found airflow and charge to be, and how crews share in it: each install has a score for airflow and one for charge, made of
/// its work, its crew's habits and chance; its rank among many such scores gives its place in the published spread. Habits so move crews,
/// and the fleet as a whole keeps the published spread.
/// </summary>
/// <remarks>
/// Source: J. Winkler, S. Das, L. Earle, L. Burkett, J. Robertson, D. Roberts and C. Booten, "Impact of installation faults in air conditioners and
/// heat pumps in single-family homes on U.S. energy usage", Applied Energy 278 (2020), as counts by bin (354 systems for airflow, 206 for charge);
/// even within a bin. Mostly older homes: a contractor's new installs may well be better, see <see cref="SimulatorSettings.ErrorScale"/>.
/// </remarks>
internal sealed class FieldErrors
{
    public const double AirflowBin = 545.4 / 11, FirstAirflow = 154.8, ChargeBin = 0.835 / 6, FirstCharge = 0.570;

    /// <summary>Systems by airflow, first bin about 154.8 cfm per ton.</summary>
    public static readonly int[] AirflowCounts = [9, 31, 51, 75, 65, 54, 35, 21, 5, 3, 4, 1];

    /// <summary>Systems by charge over right charge, first bin about 0.570.</summary>
    public static readonly int[] ChargeCounts = [8, 15, 64, 57, 51, 5, 6];

    private const int Scores = 20_000;
    private readonly double[] airflow, charge;
    private readonly double scale;

    /// <summary>Draws the scores of many installs that are not of the fleet, to rank those that are.</summary>
    public FieldErrors(SimulatorSettings settings)
    {
        scale = settings.ErrorScale;
        (airflow, charge) = (new double[Scores], new double[Scores]);
        for (var i = 0; i < Scores; i++)
            (airflow[i], charge[i]) = InstallFactory.Scores(settings, -1 - i);
        Array.Sort(airflow);
        Array.Sort(charge);
    }

    /// <summary>Airflow over 400 cfm per ton of an install by its score.</summary>
    public double AirflowRatio(double score) => 1 + scale * (Quantile(AirflowCounts, FirstAirflow, AirflowBin, Rank(airflow, score)) / 400 - 1);

    /// <summary>Charge over right charge of an install by its score.</summary>
    public double ChargeRatio(double score) => 1 + scale * (Quantile(ChargeCounts, FirstCharge, ChargeBin, Rank(charge, score)) - 1);

    /// <summary>Value of a histogram below which a share lies.</summary>
    internal static double Quantile(int[] counts, double first, double width, double share)
    {
        var left = share * counts.Sum();
        var i = 0;
        while (i < counts.Length - 1 && left > counts[i])
            left -= counts[i++];
        return first + width * (i - 0.5 + Math.Min(1, left / counts[i]));
    }

    private static double Rank(double[] sorted, double score)
    {
        var at = Array.BinarySearch(sorted, score);
        at = at < 0 ? ~at : at;
        if (at == 0 || at == sorted.Length)
            return (at == 0 ? 0.5 : sorted.Length - 0.5) / sorted.Length;
        var (low, high) = (sorted[at - 1], sorted[at]);
        return (at - 0.5 + (high > low ? (score - low) / (high - low) : 0.5)) / sorted.Length;
    }
}
