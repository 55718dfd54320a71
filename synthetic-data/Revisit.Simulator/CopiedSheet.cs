namespace Revisit.Simulator;

/// <summary>What a crew writes that does not read: the values of an earlier start-up of its own, on another system.</summary>
internal static class CopiedSheet
{
    private const int Back = 60;

    /// <summary>The reading left at the nearest earlier install of the same crew, or null if none is near.</summary>
    public static SimulatedReading? Find(SimulatorSettings settings, Fleet fleet, Install install)
    {
        for (var no = install.No - 1; no >= Math.Max(1, install.No - Back); no--)
        {
            var other = InstallFactory.Draw(settings, fleet.Errors, no);
            if (other.Crew == install.Crew && other.InstalledOn <= install.InstalledOn)
                return InstallStory.AsCommissioned(settings, fleet, no);
        }

        return null;
    }

    /// <summary>Writes a sheet over the circuit and air values of a reading; outdoor air and settings stay.</summary>
    public static void Write(SimulatedReading reading, SimulatedReading sheet)
    {
        (reading.ReturnDbF, reading.ReturnWbF, reading.ReturnRhPct) = (sheet.ReturnDbF, sheet.ReturnWbF, sheet.ReturnRhPct);
        (reading.SupplyDbF, reading.SupplyWbF, reading.SupplyRhPct) = (sheet.SupplyDbF, sheet.SupplyWbF, sheet.SupplyRhPct);
        (reading.SuctionPressurePsig, reading.LiquidPressurePsig) = (sheet.SuctionPressurePsig, sheet.LiquidPressurePsig);
        (reading.SuctionLineF, reading.LiquidLineF, reading.DischargeLineF) = (sheet.SuctionLineF, sheet.LiquidLineF, sheet.DischargeLineF);
        (reading.ExternalStaticInwc, reading.ReturnStaticInwc, reading.SupplyStaticInwc) = (sheet.ExternalStaticInwc, sheet.ReturnStaticInwc, sheet.SupplyStaticInwc);
    }
}
