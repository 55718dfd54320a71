using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>The constants of a profile, read by the same rules as cells.</summary>
internal static class ConstantRow
{
    /// <summary>A row that holds the constants and nothing else.</summary>
    public static ReadingRow Of(SourceProfile profile)
    {
        var row = new ReadingRow();
        row.Clear();
        foreach (var (column, value) in profile.Constants)
        {
            Fill(row, column, value);
        }

        return row;
    }

    /// <summary>Why a value cannot be the constant of a column, or null.</summary>
    public static string? Fault(string column, string value)
    {
        var row = new ReadingRow();
        row.Clear();
        Fill(row, column, value);
        var term = Nomenclature.Of(column);
        var index = ReadingRow.At(column);
        return row.SetAside.Count > 0 ? row.SetAside[0].Detail
            : !row.Has(index) ? "it is empty"
            : term.Kind == ColumnKind.Number && !term.Allows(row.Numbers[index]) ? $"expected a number from {term.Low} to {term.High} [{term.Unit}]"
            : null;
    }

    private static void Fill(ReadingRow row, string column, string value)
    {
        var term = Nomenclature.Of(column);
        var unit = term.Kind == ColumnKind.Number ? UcumUnit.OfColumn(term) : null;
        var plan = new ColumnPlan(
            new ProfileColumn(column, [column], unit, false, new Dictionary<string, string>(), [], false, "", 0), SourceProfile.Plain(SourceKind.Csv), [0]);
        plan.Fill(row, new OneCell(value), 0);
    }
}
