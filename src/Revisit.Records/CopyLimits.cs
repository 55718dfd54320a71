namespace Revisit.Records;

/// <summary>What is promised of the questions about readings that look copied; the stage that asks and the page that shows them hold the same number.</summary>
public static class CopyLimits
{
    /// <summary>Stated share of fleets in which a crew is asked about that copies nothing.</summary>
    public const double Asked = 0.01;

    /// <summary>Ways of looking whose smallest chance counts: repeated visits, last digits, spread.</summary>
    public const int Looks = 3;
}
