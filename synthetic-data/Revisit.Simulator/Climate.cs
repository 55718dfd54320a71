using System.Globalization;
using Revisit.Records;

namespace Revisit.Simulator;

/// <summary>Outdoor air of a branch by month and hour; read from <c>Data/climate.csv</c>, whose head names the source.</summary>
internal sealed class Climate
{
    private static readonly Dictionary<string, double[]> Rows = Read();
    private static readonly double[] Hours = [8.5, 12.5, 15.5]; // middle of the hours of the table

    private readonly double[][] dry;
    private readonly double[] dew;

    private Climate(string branch)
    {
        dry = [Rows[branch + ",dry_bulb_09"], Rows[branch + ",dry_bulb_13"], Rows[branch + ",dry_bulb_16"]];
        dew = Rows[branch + ",dew_point"];
    }

    /// <summary>The climate of a branch.</summary>
    public static Climate Of(string branch) => new(branch);

    /// <summary>Mean outdoor dry bulb [°F] of a day, between the middles of the months, at a local hour of 8 to 17.</summary>
    public double OutdoorF(DateOnly day, double hour)
    {
        var i = hour < Hours[1] ? 0 : 1;
        var share = (Math.Clamp(hour, Hours[0], Hours[2]) - Hours[i]) / (Hours[i + 1] - Hours[i]);
        return Mean(dry[i], day) * (1 - share) + Mean(dry[i + 1], day) * share;
    }

    /// <summary>Mean outdoor dry bulb [°F] of a month's early afternoon.</summary>
    public double AfternoonF(int month) => dry[1][month - 1];

    /// <summary>Mean outdoor dew point [°F] of a day.</summary>
    public double DewF(DateOnly day) => Mean(dew, day);

    private static double Mean(double[] monthly, DateOnly day)
    {
        var at = day.Month - 1 + (day.Day - 15.5) / 30.5;
        var low = (int)Math.Floor(at);
        var share = at - low;
        return monthly[(low + 12) % 12] * (1 - share) + monthly[(low + 13) % 12] * share;
    }

    private static Dictionary<string, double[]> Read()
    {
        using var reader = new StreamReader(typeof(Climate).Assembly.GetManifestResourceStream("climate.csv")!);
        return reader.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(l => l[0] != '#').Skip(1).Select(l => l.Split(','))
            .ToDictionary(c => c[0] + "," + c[1], c => c.Skip(3).Select(v => Units.FahrenheitFromCelsius(double.Parse(v, CultureInfo.InvariantCulture))).ToArray());
    }
}
