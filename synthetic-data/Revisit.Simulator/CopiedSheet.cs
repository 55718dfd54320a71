namespace Revisit.Simulator;

/// <summary>What a crew writes that does not read: one of two tidy sheets it has written before, the same values each time.</summary>
internal static class CopiedSheet
{
    /// <summary>Writes a sheet over the circuit and air values of a reading; outdoor air and state stay.</summary>
    /// <param name="reading">The reading to overwrite.</param>
    /// <param name="sheet">1 or 2.</param>
    public static void Write(SimulatedReading reading, int sheet)
    {
        var first = sheet == 1;
        reading.ReturnDbF = first ? 75 : 76;
        reading.ReturnWbF = first ? 63 : 64;
        (reading.ReturnRhPct, reading.SupplyWbF, reading.DischargeLineF) = (double.NaN, double.NaN, double.NaN);
        reading.SupplyDbF = first ? 55 : 56;
        reading.SuctionPressurePsig = first ? 125 : 130;
        reading.LiquidPressurePsig = first ? 325 : 350;
        reading.SuctionLineF = first ? 55 : 56;
        reading.LiquidLineF = first ? 95 : 100;
        reading.ExternalStaticInwc = 0.5;
        (reading.ReturnStaticInwc, reading.SupplyStaticInwc) = (double.NaN, double.NaN);
    }
}
