using System.Runtime.Intrinsics;

namespace Revisit.Diagnosis;

/// <summary>
/// Measured − expected with the uncertainty of all of them together. Instruments enter once each: a pressure that reads high moves
/// evaporating temperature and superheat against one another, an outdoor thermometer moves every expected value; so the residuals are
/// not independent, and their covariance says how. Missing ones are NaN and drop out.
/// </summary>
public sealed class ResidualSet
{
    /// <summary>Number of residuals.</summary>
    public const int Count = 8;

    private readonly double[] values = new double[Count];
    private readonly double[] sds = new double[Count];
    private readonly double[] covariance = new double[Count * Count];
    private readonly double[] factor = new double[Count * Count];
    private readonly int[] present = new int[Count];
    private readonly double[] whitened = new double[Count];

    public double Value(Residual r) => values[(int)r];

    /// <summary>Standard uncertainty of one residual, whatever the others say.</summary>
    public double Sd(Residual r) => sds[(int)r];

    public bool Has(Residual r) => !double.IsNaN(values[(int)r]);

    internal ReadOnlySpan<double> Values => values;

    internal ReadOnlySpan<double> Sds => sds;

    /// <summary>How many are present.</summary>
    public int Present { get; private set; }

    /// <summary>The residuals that are present as independent numbers of unit uncertainty.</summary>
    internal ReadOnlySpan<double> Whitened => whitened.AsSpan(0, Present);

    /// <summary>
    /// How far the reading is from a sound system: the square of the distance in uncertainties of all residuals together, growing only
    /// in proportion beyond <see cref="Bend"/>, so that one wild value does not outvote the rest.
    /// </summary>
    public double Distance => Bent(Square(Whitened));

    internal const double Bend = 3.5;

    internal static double Square(ReadOnlySpan<double> whitened)
    {
        var sum = 0.0;
        foreach (var v in whitened)
        {
            sum += v * v;
        }

        return sum;
    }

    internal static double Bent(double square) => square <= Bend * Bend ? square : 2 * Bend * Math.Sqrt(square) - Bend * Bend;

    /// <summary>Of four squares at once.</summary>
    internal static Vector256<double> Bent(Vector256<double> squares)
    {
        var limit = Vector256.Create(Bend * Bend);
        return Vector256.ConditionalSelect(Vector256.LessThanOrEqual(squares, limit), squares, 2 * Bend * Vector256.Sqrt(squares) - limit);
    }

    /// <summary>Fills it from a reading and its metrics.</summary>
    /// <param name="x">The reading.</param>
    /// <param name="m">Its metrics.</param>
    /// <param name="shift">What the fleet's sound readings of this class add to what the model expects, in the order of <see cref="Residual"/>; may be empty.</param>
    /// <param name="doubt">Factor on the spread of sound systems, above 1 where the reading is less certain to be steady.</param>
    public void Fill(in ReadingInputs x, MetricSet m, ReadOnlySpan<double> shift, double doubt)
    {
        Array.Fill(values, double.NaN);
        Array.Fill(sds, double.NaN);
        Array.Clear(covariance);
        var sound = m.Sound;
        if (sound.Known)
        {
            values[(int)Residual.Split] = m[MetricId.Split].Value - sound.TemperatureSplitF + SoundSystem.BlowerHeatF;
            values[(int)Residual.Evaporating] = m[MetricId.Evaporating].Value - sound.EvaporatingF;
            values[(int)Residual.Superheat] = x.HasValve && double.IsNaN(x.TargetSuperheat) ? m[MetricId.Superheat].Value - sound.SuperheatF : m[MetricId.SuperheatError].Value;
            values[(int)Residual.Subcooling] = m[MetricId.Subcooling].Value - sound.SubcoolingF;
            values[(int)Residual.CondensingOverOutdoor] = m[MetricId.CondensingOverOutdoor].Value - sound.CondensingOverOutdoorF;
            values[(int)Residual.DischargeLine] = x.DischargeLine - sound.DischargeLineF;

            // Liquid over outdoor is condensing over outdoor less subcooling: it says nothing new where both of those are known.
            if (!m[MetricId.Condensing].Has)
            {
                values[(int)Residual.LiquidOverOutdoor] = m[MetricId.LiquidOverOutdoor].Value - sound.LiquidOverOutdoorF;
            }
        }

        var design = !double.IsNaN(x.DesignAirflow) ? x.DesignAirflow : SoundSystem.AirflowPerTon * x.NominalTons;
        values[(int)Residual.AirflowShare] = x.Airflow / design - 1;
        for (var r = 0; r < shift.Length; r++)
        {
            values[r] -= shift[r];
        }

        Instruments(x, m);
        Weather(m);
        Sound(x, doubt);
        Present = 0;
        for (var r = 0; r < Count; r++)
        {
            if (double.IsFinite(values[r]))
            {
                sds[r] = Math.Sqrt(covariance[r * Count + r]);
                present[Present++] = r;
            }
            else
            {
                values[r] = double.NaN;
            }
        }

        Factor();
        Whiten();
    }

    /// <summary>Takes what the fleet adds to the expected values off residuals that were filled without it.</summary>
    internal void Move(ReadOnlySpan<double> shift)
    {
        for (var r = 0; r < shift.Length; r++)
        {
            values[r] -= shift[r];
        }

        Whiten();
    }

    private void Whiten()
    {
        for (var i = 0; i < Present; i++)
        {
            var row = factor.AsSpan(i * Count, i + 1);
            var sum = values[present[i]];
            for (var j = 0; j < i; j++)
            {
                sum -= row[j] * whitened[j];
            }

            whitened[i] = sum * row[i];
        }
    }

    /// <summary>Brings many numbers of each residual, side by side, to the independent form of <see cref="Whitened"/>, four at a time.</summary>
    /// <param name="from">A row for each residual, in the order of <see cref="Residual"/>.</param>
    /// <param name="to">Receives a row for each that is present.</param>
    /// <param name="length">Numbers in a row, a multiple of four.</param>
    internal void WhitenRows(double[] from, double[] to, int length)
    {
        for (var i = 0; i < Present; i++)
        {
            var row = factor.AsSpan(i * Count, i + 1);
            for (var k = 0; k < length; k += Vector256<double>.Count)
            {
                var sum = Vector256.Create(from, present[i] * length + k);
                for (var j = 0; j < i; j++)
                {
                    sum -= row[j] * Vector256.Create(to, j * length + k);
                }

                (sum * row[i]).CopyTo(to, i * length + k);
            }
        }
    }

    private void Instruments(in ReadingInputs x, MetricSet m)
    {
        const double Line = InstrumentAccuracy.ThermometerSdF;
        Add(Residual.Split, Residual.Split, Line * Line); // supply; return is part of the weather
        var (dew, bubble) = (m[MetricId.Evaporating].Sd, m[MetricId.Condensing].Sd);
        if (!double.IsNaN(dew))
        {
            Add(Residual.Evaporating, Residual.Evaporating, dew * dew);
            Add(Residual.Superheat, Residual.Superheat, dew * dew);
            Add(Residual.Evaporating, Residual.Superheat, -dew * dew);
        }

        if (!double.IsNaN(bubble))
        {
            Add(Residual.CondensingOverOutdoor, Residual.CondensingOverOutdoor, bubble * bubble);
            Add(Residual.Subcooling, Residual.Subcooling, bubble * bubble);
            Add(Residual.CondensingOverOutdoor, Residual.Subcooling, bubble * bubble);
        }

        Add(Residual.Superheat, Residual.Superheat, Line * Line);
        Add(Residual.Subcooling, Residual.Subcooling, Line * Line);
        Add(Residual.LiquidOverOutdoor, Residual.LiquidOverOutdoor, Line * Line);
        Add(Residual.DischargeLine, Residual.DischargeLine, 4 * Line * Line);
        var flow = (1 + values[(int)Residual.AirflowShare]) * InstrumentAccuracy.AirflowSdShare(x.AirflowMethod);
        Add(Residual.AirflowShare, Residual.AirflowShare, double.IsNaN(flow) ? 0 : flow * flow);
    }

    private void Weather(MetricSet m)
    {
        if (!m.Sound.Known)
        {
            return;
        }

        const double Air = InstrumentAccuracy.ThermometerSdF * InstrumentAccuracy.ThermometerSdF;
        var wet = m[MetricId.ReturnWetBulb].Sd;
        var slopes = m.Equipment!.SlopesNear(m.Conditions);
        for (var a = 0; a < Count; a++)
        {
            for (var b = a; b < Count; b++)
            {
                Add((Residual)a, (Residual)b, Air * (slopes.Outdoor[a] * slopes.Outdoor[b] + slopes.ReturnDry[a] * slopes.ReturnDry[b]) + wet * wet * slopes.ReturnWet[a] * slopes.ReturnWet[b]);
            }
        }
    }

    /// <summary>Spread of sound systems around the model.</summary>
    private void Sound(in ReadingInputs x, double doubt)
    {
        Span<double> spread = stackalloc double[Count];
        SoundSpread.Of(x, spread);
        for (var r = 0; r < Count; r++)
        {
            var sd = spread[r] * doubt;
            Add((Residual)r, (Residual)r, sd * sd);
        }
    }

    private void Add(Residual a, Residual b, double value)
    {
        covariance[(int)a * Count + (int)b] += value;
        if (a != b)
        {
            covariance[(int)b * Count + (int)a] += value;
        }
    }

    /// <summary>Cholesky factor of the covariance of those present; its diagonal is kept inverted.</summary>
    private void Factor()
    {
        for (var i = 0; i < Present; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = covariance[present[i] * Count + present[j]];
                for (var k = 0; k < j; k++)
                {
                    sum -= factor[i * Count + k] * factor[j * Count + k];
                }

                factor[i * Count + j] = i == j ? 1 / Math.Sqrt(sum) : sum * factor[j * Count + j];
            }
        }
    }
}
