namespace Revisit.Records;

/// <summary>Terms of the <see cref="Nomenclature"/>, written down by kind.</summary>
internal abstract class TermGroup
{
    private readonly List<Term> all = [];

    public IReadOnlyList<Term> All => all;

    protected void Text(string name, string meaning, IReadOnlyList<string>? codes = null) => all.Add(new(name, ColumnKind.Text, "", null, null, meaning, codes ?? []));

    protected void Whole(string name, double? low, double? high, string meaning, string unit = "1") => all.Add(new(name, ColumnKind.Whole, unit, low, high, meaning, []));

    protected void Number(string name, string unit, double? low, double? high, string meaning) => all.Add(new(name, ColumnKind.Number, unit, low, high, meaning, []));

    protected void Day(string name, string meaning) => all.Add(new(name, ColumnKind.Day, "", null, null, meaning, []));

    protected void Instant(string name, string meaning) => all.Add(new(name, ColumnKind.Instant, "", null, null, meaning, []));
}
