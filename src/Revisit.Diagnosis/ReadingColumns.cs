using Revisit.Records;

namespace Revisit.Diagnosis;

/// <summary>The columns of a readings batch that diagnosis uses, looked up once.</summary>
internal sealed class ReadingColumns(Batch readings, InstallTable installs)
{
    public readonly string?[] VisitId = readings.Text("visit_id");
    public readonly int?[] ReadingNo = readings.Whole("reading_no");
    public readonly string?[] InstallId = readings.Text("install_id");
    public readonly string?[] CrewId = readings.Text("crew_id");
    public readonly DateOnly?[] VisitedOn = readings.Day("visited_on");
    public readonly string?[] Phase = readings.Text("phase");
    public readonly string?[] Correction = readings.Text("correction");
    private readonly string?[] filter = readings.Text("filter_state");
    private readonly string?[] method = readings.Text("airflow_method");
    private readonly double[] minutes = readings.Number("minutes_running");
    private readonly double[] outdoor = readings.Number("outdoor_db_f");
    private readonly double[] returnDb = readings.Number("return_db_f");
    private readonly double[] returnWb = readings.Number("return_wb_f");
    private readonly double[] returnRh = readings.Number("return_rh_pct");
    private readonly double[] supplyDb = readings.Number("supply_db_f");
    private readonly double[] supplyWb = readings.Number("supply_wb_f");
    private readonly double[] supplyRh = readings.Number("supply_rh_pct");
    private readonly double[] suction = readings.Number("suction_pressure_psig");
    private readonly double[] liquid = readings.Number("liquid_pressure_psig");
    private readonly double[] suctionLine = readings.Number("suction_line_f");
    private readonly double[] liquidLine = readings.Number("liquid_line_f");
    private readonly double[] discharge = readings.Number("discharge_line_f");
    private readonly double[] airflow = readings.Number("airflow_cfm");
    private readonly int[] install = Array.ConvertAll(readings.Text("install_id"), installs.RowOf);

    public int Rows => VisitId.Length;

    /// <summary>The class the fleet learns by; none where the install is not known.</summary>
    public string? FleetClass(int i) => installs.FleetClass(install[i]);

    /// <summary>Inputs of one row.</summary>
    public ReadingInputs At(int i)
    {
        var x = new ReadingInputs
        {
            FilterState = filter[i],
            AirflowMethod = method[i],
            MinutesRunning = minutes[i],
            OutdoorDb = outdoor[i],
            ReturnDb = returnDb[i],
            ReturnWb = returnWb[i],
            ReturnRh = returnRh[i],
            SupplyDb = supplyDb[i],
            SupplyWb = supplyWb[i],
            SupplyRh = supplyRh[i],
            SuctionPressure = suction[i],
            LiquidPressure = liquid[i],
            SuctionLine = suctionLine[i],
            LiquidLine = liquidLine[i],
            DischargeLine = discharge[i],
            Airflow = airflow[i],
        };
        installs.Describe(install[i], ref x);
        return x;
    }

    /// <summary>Rows in the order of the made tables: visit, then reading.</summary>
    public int[] InKeyOrder()
    {
        var order = new int[Rows];
        for (var i = 0; i < order.Length; i++)
        {
            order[i] = i;
        }

        int Compare(int a, int b)
        {
            var c = string.CompareOrdinal(VisitId[a], VisitId[b]);
            c = c != 0 ? c : (ReadingNo[a] ?? 0).CompareTo(ReadingNo[b] ?? 0);
            return c != 0 ? c : a.CompareTo(b);
        }

        // Ingest writes them in this order already.
        for (var i = 1; i < order.Length; i++)
        {
            if (Compare(i - 1, i) > 0)
            {
                Array.Sort(order, Compare);
                break;
            }
        }

        return order;
    }

    /// <summary>Places, those of one class of equipment in like weather next to each other: they use the same nodes of the model's tables.</summary>
    public int[] AlikeTogether(int[] order)
    {
        var places = new int[order.Length];
        var keys = new long[places.Length];
        for (var i = 0; i < places.Length; i++)
        {
            var row = order[i];
            places[i] = i;
            keys[i] = ((long)installs.ClassNumber(install[row]) << 32) + ((long)Fives(outdoor[row]) << 16) + Fives(returnWb[row]);
        }

        Array.Sort(keys, places);
        return places;

        static int Fives(double f) => double.IsNaN(f) ? 0 : Math.Clamp((int)(f / 5), 0, 255);
    }
}
