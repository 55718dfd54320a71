using Revisit.Physics;

namespace Revisit.Diagnosis;

/// <summary>
/// How far the coil is from freezing: now, and after the proposed correction in the mildest weather the system will run in with its
/// filter loaded, where airflow that was put right on a hot day may still ice the coil.
/// </summary>
/// <param name="NowF">Evaporating temperature over 32 °F [°F difference], as read.</param>
/// <param name="MildestF">The same in the mildest weather after the correction, by the equipment model and what this unit reads off it; NaN where the model has no answer.</param>
public sealed record FreezeWatch(double NowF, double MildestF)
{
    /// <summary>Mildest weather a system runs in: 65 °F outdoors, 70 °F and 58.5 °F wet bulb (half humid) indoors (common practice, no source).</summary>
    public static readonly EquipmentConditions Mildest = new(65, 70, 58.5);

    /// <summary>Airflow lost through a loaded filter, as a share (common practice, no source).</summary>
    public const double LoadedFilter = 0.15;

    // What a unit may read off the model of its own; more is a fault or a wrong value, and goes with it.
    private const double MostOwn = 4;

    /// <summary>Margin from which nobody needs to watch [°F difference] (judgement).</summary>
    public const double Easy = 3;

    /// <summary>Computes both margins; null where the suction pressure is not known.</summary>
    public static FreezeWatch? Of(MetricSet m, Judgement judged, CorrectionForecast? change)
    {
        if (!m[MetricId.FreezeMargin].Has)
        {
            return null;
        }

        var mildest = double.NaN;
        if (m.Sound.Known)
        {
            // What this unit reads off the model once the fault is gone stays with it.
            var airflow = (change?.AirflowAfter ?? 1) * Math.Clamp(m.ScfmPerTon, 150, 700);
            var here = m.Equipment!.Expected(m.Conditions, airflow);
            var there = m.Equipment.Expected(Mildest with { ElevationFt = m.Conditions.ElevationFt }, Math.Max(120, airflow * (1 - LoadedFilter)));
            var own = m[MetricId.Evaporating].Value + (change?.Shift.EvaporatingF ?? 0) - here.EvaporatingF;
            mildest = here.Known && there.Known ? there.EvaporatingF + Math.Clamp(own, -MostOwn, MostOwn) - 32 : double.NaN;
        }

        return new(m[MetricId.FreezeMargin].Value, mildest);
    }

    /// <summary>What to do about it, in words.</summary>
    public string Advice => NowF < 0 ? "the coil evaporates below freezing now: look for ice, thaw it before reading again"
        : double.IsNaN(MildestF) ? "what mild weather would do cannot be said without outdoor and return air"
        : MildestF < 0 ? "in mild weather with a loaded filter this coil would freeze: leave more air, and watch it"
        : MildestF < Easy ? "close to freezing in mild weather with a loaded filter: watch the coil, tell the customer about the filter"
        : "no freezing expected, also in mild weather with a loaded filter";
}
