using System.Globalization;
using System.Runtime.InteropServices;

namespace Revisit.Diagnosis;

/// <summary>
/// What the fleet's own sound readings add to what the equipment model expects, by class of equipment: the median of measured −
/// expected over readings that the model alone finds in line, shrunk towards the model where they are few. Readings the model finds
/// faulty never enter, so a fleet full of one fault does not teach itself that the fault is sound.
/// </summary>
public sealed class FleetExpectation
{
    /// <summary>Fewest readings of a class that are listened to.</summary>
    public const int Fewest = 30;

    /// <summary>Readings that weigh as much as the model.</summary>
    public const int ModelWeight = 50;

    /// <summary>Largest shift, in spreads of sound systems: beyond it the class is no longer what the model describes.</summary>
    public const double MostSpreads = 2;

    // Width of a bin [°F difference]; medians are interpolated in it. Airflow as a share is not learned: its expectation is the design.
    private const double Bin = 0.25;
    private static readonly Residual[] Learned = [.. Enum.GetValues<Residual>().Where(r => r != Residual.AirflowShare)];

    /// <summary>Of each class, for each residual, how many readings fell into each bin.</summary>
    private readonly Dictionary<string, Dictionary<int, int>[]> counts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, double[]> shifts = new(StringComparer.Ordinal);

    /// <summary>Takes in a reading judged by the model alone.</summary>
    public void Add(in ReadingInputs x, ResidualSet residuals, Judgement judged)
    {
        if (judged.Finding == "in_line")
        {
            AddSound(x, residuals);
        }
    }

    /// <summary>Takes in a reading that the model alone finds in line.</summary>
    internal void AddSound(in ReadingInputs x, ResidualSet residuals)
    {
        var bins = BinsOf(ClassOf(x));
        foreach (var r in Learned)
        {
            if (residuals.Has(r))
            {
                Add(bins[(int)r], (int)Math.Floor(residuals.Value(r) / Bin), 1);
            }
        }
    }

    /// <summary>Takes in what others have gathered.</summary>
    public void Add(FleetExpectation other)
    {
        foreach (var (name, theirs) in other.counts)
        {
            var bins = BinsOf(name);
            for (var r = 0; r < theirs.Length; r++)
            {
                foreach (var (bin, count) in theirs[r])
                {
                    Add(bins[r], bin, count);
                }
            }
        }

        shifts.Clear();
    }

    /// <summary>The shift for a reading, in the order of <see cref="Residual"/>, to 0.1 °F; empty where too few sound readings are known.</summary>
    /// <param name="x">The reading; its class counts.</param>
    public ReadOnlySpan<double> ShiftFor(in ReadingInputs x) => ShiftOf(x);

    /// <summary>As <see cref="ShiftFor"/>. The first reading of a class that is asked for settles what the class may differ by at most.</summary>
    internal double[] ShiftOf(in ReadingInputs x)
    {
        var name = ClassOf(x);
        if (!shifts.TryGetValue(name, out var shift))
        {
            shifts[name] = shift = Make(name, x);
        }

        return shift;
    }

    /// <summary>The shift of a class that was asked for before, else null.</summary>
    internal double[]? KnownShift(string? fleetClass) => fleetClass is null ? null : shifts.GetValueOrDefault(fleetClass);

    /// <summary>Everything learned, as text with one line a bin: class, residual, bin, count.</summary>
    public void Write(Stream stream)
    {
        using var writer = new StreamWriter(stream, leaveOpen: true) { NewLine = "\n" };
        foreach (var (name, bins) in counts.OrderBy(c => c.Key, StringComparer.Ordinal))
        {
            foreach (var residual in Learned)
            {
                foreach (var (bin, count) in bins[(int)residual].OrderBy(b => b.Key))
                {
                    writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name},{residual},{bin},{count}"));
                }
            }
        }
    }

    /// <summary>Reads what <see cref="Write"/> wrote.</summary>
    public static FleetExpectation Read(string path)
    {
        var fleet = new FleetExpectation();
        foreach (var line in File.ReadLines(path))
        {
            var parts = line.Split(',');
            Add(fleet.BinsOf(parts[0])[(int)Enum.Parse<Residual>(parts[1])], int.Parse(parts[2], CultureInfo.InvariantCulture), int.Parse(parts[3], CultureInfo.InvariantCulture));
        }

        return fleet;
    }

    /// <summary>What all shifts come to, for knowing whether a month must be judged again.</summary>
    public string Summary() => string.Join(';', counts.Keys.Order(StringComparer.Ordinal).Select(name =>
        name + ":" + string.Join(' ', Learned.Select(r => Shift(name, r, double.PositiveInfinity).ToString("0.0", CultureInfo.InvariantCulture)))));

    /// <summary>Equipment that is expected to read alike.</summary>
    internal static string ClassOf(in ReadingInputs x) => x.FleetClass ?? string.Create(CultureInfo.InvariantCulture,
        $"{x.Fluid?.Designation ?? x.Refrigerant ?? "?"} {(x.HasOrifice ? "orifice" : "valve")} {(double.IsNaN(x.RatedEer) ? 0 : 2 * Math.Round(x.RatedEer / 2)):0}");

    private double[] Make(string name, in ReadingInputs x)
    {
        Span<double> spread = stackalloc double[ResidualSet.Count];
        SoundSpread.Of(x, spread);
        var shift = new double[ResidualSet.Count];
        foreach (var r in Learned)
        {
            shift[(int)r] = Shift(name, r, MostSpreads * spread[(int)r]);
        }

        return Array.TrueForAll(shift, s => s == 0) ? [] : shift;
    }

    private double Shift(string name, Residual r, double most)
    {
        var bins = counts.GetValueOrDefault(name)?[(int)r];
        var n = bins?.Values.Sum() ?? 0;
        if (n < Fewest)
        {
            return 0;
        }

        // The median, inside its bin.
        var before = 0;
        foreach (var (bin, count) in bins!.OrderBy(b => b.Key))
        {
            if (2 * (before + count) >= n)
            {
                var median = Bin * (bin + (0.5 * n - before) / count);
                return Math.Round(Math.Clamp(median * n / (n + ModelWeight), -most, most), 1);
            }

            before += count;
        }

        return 0;
    }

    private Dictionary<int, int>[] BinsOf(string name)
    {
        if (!counts.TryGetValue(name, out var bins))
        {
            counts[name] = bins = [.. Enumerable.Range(0, ResidualSet.Count).Select(_ => new Dictionary<int, int>())];
        }

        return bins;
    }

    private static void Add(Dictionary<int, int> bins, int bin, int count) =>
        CollectionsMarshal.GetValueRefOrAddDefault(bins, bin, out _) += count;
}
