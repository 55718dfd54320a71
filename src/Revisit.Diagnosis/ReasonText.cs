using System.Globalization;
using System.Text;

namespace Revisit.Diagnosis;

/// <summary>
/// What speaks for and against a finding, in plain words. A residual speaks for the winner when it lies nearer to what the winner
/// predicts than to what the next cause predicts, in units of its uncertainty. "±" is one standard uncertainty.
/// </summary>
internal sealed class ReasonText
{
    private static readonly string[] PlainNames =
        ["in line", "too much air", "too little air", "low charge", "high charge", "a liquid-line restriction", "poor condenser airflow", "non-condensables", "a weak compressor"];

    private readonly StringBuilder text = new();

    /// <summary>A cause in the words of the trade.</summary>
    public static string Plain(int cause) => PlainNames[cause];

    /// <summary>The filter is said first: it may be all there is to it.</summary>
    public static string? FilterFirst(string? filterState) => filterState switch
    {
        "loaded" => "filter loaded: put a clean one in and read again before judging airflow.",
        "missing" => "filter missing: put one in and read again before judging airflow; look at the coil.",
        _ => null,
    };

    /// <summary>What measurement separates two causes (common practice, no source).</summary>
    public static string TellApart(int a, int b)
    {
        bool Either(params int[] causes) => causes.Contains(a) || causes.Contains(b);
        return Either(1, 2) ? "measure airflow and external static pressure"
            : Either(5) ? "measure the temperature along the liquid line and across the drier"
            : Either(6, 7) ? "compare liquid line with outdoor air, and look at the condenser coil and fan"
            : Either(8) ? "measure compressor current and discharge line"
            : "read again after 15 minutes, with subcooling and superheat both taken";
    }

    public string Write(in ReadingInputs x, ResidualSet residuals, int first, ReadOnlySpan<double> bestShift, int second, ReadOnlySpan<double> rivalShift, Judgement judged)
    {
        text.Clear();
        if (FilterFirst(x.FilterState) is { } filter)
        {
            text.Append(filter).Append(' ');
        }

        var any = Side("For ", true, x, residuals, first, bestShift, second, rivalShift);
        any |= Side("Against ", false, x, residuals, first, bestShift, second, rivalShift);
        if (!any)
        {
            text.Append("No reading sets ").Append(Plain(first)).Append(" apart from ").Append(Plain(second)).Append(". ");
        }

        if (judged.ChargeBeside is { } charge)
        {
            text.Append("Charge looks ").Append(charge == "charge_low" ? "low" : "high").Append(" as well: set airflow first, wait 15 minutes, read again, then judge charge. ");
        }
        else if (first is Causes.ChargeLow or Causes.ChargeHigh && judged.Probabilities[Causes.AirflowHigh] + judged.Probabilities[Causes.AirflowLow] >= 0.2)
        {
            text.Append("Put airflow right before judging charge. ");
        }

        if (double.IsNaN(x.MinutesRunning))
        {
            text.Append("Running time not written down: less certain. ");
        }

        if (double.IsNaN(x.Elevation))
        {
            text.Append("Elevation unknown, taken as sea level. ");
        }

        text.Length--;
        return text.ToString();
    }

    private bool Side(string head, bool speaksFor, in ReadingInputs x, ResidualSet residuals, int first, ReadOnlySpan<double> bestShift, int second, ReadOnlySpan<double> rivalShift)
    {
        const double Matters = 0.2;
        var any = false;
        for (var r = 0; r < ResidualSet.Count; r++)
        {
            var value = residuals.Values[r];
            if (double.IsNaN(value))
            {
                continue;
            }

            var sd = residuals.Sds[r];
            var toBest = (value - bestShift[r]) / sd;
            var toRival = (value - rivalShift[r]) / sd;
            var advantage = 0.5 * (toRival * toRival - toBest * toBest);
            if (speaksFor ? advantage < Matters : advantage > -Matters)
            {
                continue;
            }

            if (any)
            {
                text.Append(", ");
            }
            else
            {
                text.Append(head).Append(Plain(first)).Append(" over ").Append(Plain(second)).Append(": ");
            }

            Clause(x, (Residual)r, value, sd);
            any = true;
        }

        if (any)
        {
            text.Append(". ");
        }

        return any;
    }

    private void Clause(in ReadingInputs x, Residual r, double value, double sd)
    {
        var inv = CultureInfo.InvariantCulture;
        if (r == Residual.AirflowShare)
        {
            text.Append(inv, $"measured airflow {Math.Abs(value) * 100:0} % {(value < 0 ? "under" : "over")} {(double.IsNaN(x.DesignAirflow) ? "400 cfm a ton" : "design")} (±{sd * 100:0})");
            return;
        }

        var (name, expected) = r switch
        {
            Residual.Split => ("split", "expected"),
            Residual.Evaporating => ("evaporating", "expected"),
            Residual.Superheat => ("superheat", x.HasValve && double.IsNaN(x.TargetSuperheat) ? "expected" : "target"),
            Residual.Subcooling => ("subcooling", x.HasValve && !double.IsNaN(x.TargetSubcooling) ? "target" : "usual"),
            Residual.CondensingOverOutdoor => ("condensing over outdoor", "expected"),
            Residual.DischargeLine => ("discharge line", "expected"),
            _ => ("liquid line over outdoor", "expected"),
        };
        text.Append(inv, $"{name} {Math.Abs(value):0.0} °F {(value < 0 ? "under" : "over")} {expected} (±{sd:0.0})");
    }
}
