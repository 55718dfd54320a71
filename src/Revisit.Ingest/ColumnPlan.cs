using NodaTime;
using NodaTime.Text;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>How one column of the reading row is filled from the cells of a source; compiled once for each file.</summary>
internal sealed class ColumnPlan
{
    private const int CacheLimit = 20_000;
    private static readonly string[] Refrigerants =
        ["R-22", "R-32", "R-134a", "R-290", "R-404A", "R-407A", "R-407C", "R-410A", "R-422D", "R-427A", "R-438A", "R-448A", "R-449A", "R-452B", "R-454A", "R-454B", "R-454C", "R-466A"];

    private readonly ProfileColumn column;
    private readonly SourceProfile profile;
    private readonly int[] slots;
    private readonly (double Scale, double Offset) convert;
    private readonly bool exact, isVisitedAt;
    private readonly ColumnKind kind;

    /// <summary>Numbers in the column's own unit, of which no plain one means that there is none.</summary>
    private readonly bool isPlainNumber;

    /// <summary>Texts that seldom repeat and are taken as they are: looking them up would cost more than making them.</summary>
    private readonly bool isAsWritten;
    private readonly Dictionary<string, (string? Text, byte Code)> cache = [];
    private readonly Dictionary<string, (string? Text, byte Code)>.AlternateLookup<ReadOnlySpan<char>> cached;

    /// <summary>Cells met lately, by a quick mark of each: most columns have a handful.</summary>
    private readonly (string Cell, (string? Text, byte Code) Made)[] recent = new (string, (string?, byte))[32];
    private readonly LocalDateTimePattern[] instantPatterns;
    private readonly LocalDatePattern[] dayPatterns;

    public ColumnPlan(ProfileColumn column, SourceProfile profile, int[] slots)
    {
        this.column = column;
        this.profile = profile;
        this.slots = slots;
        Index = ReadingRow.At(column.Column);
        Term = Nomenclature.Of(column.Column);
        kind = Term.Kind;
        isVisitedAt = Term.Name == "visited_at";
        cached = cache.GetAlternateLookup<ReadOnlySpan<char>>();
        isAsWritten = Term.Name is "visit_id" or "install_id" or "notes" && column.Values.Count == 0 && !column.Upper && column.Drop.Length == 0;
        if (column.Unit is { } unit)
        {
            var own = UcumUnit.OfColumn(Term);
            exact = unit.Code == own.Code;
            convert = unit.To(own);
        }

        isPlainNumber = kind == ColumnKind.Number && exact && !column.Absolute && profile.Missing.Count == 0;

        instantPatterns = Term.Kind == ColumnKind.Instant ? [.. column.Formats.Select(f => LocalDateTimePattern.CreateWithInvariantCulture(f))] : [];
        dayPatterns = Term.Kind == ColumnKind.Day ? [.. column.Formats.Select(f => LocalDatePattern.CreateWithInvariantCulture(f))] : [];
    }

    /// <summary>Position in the reading row.</summary>
    public int Index { get; }

    public Term Term { get; }

    /// <summary>Whether the source gives an absolute pressure.</summary>
    public bool IsAbsolute => column.Absolute;

    /// <summary>The cell as it stood, several joined by a space.</summary>
    public string Raw(FieldSource source) =>
        slots.Length == 1 ? source.Cell(slots[0]).ToString() : string.Join(" ", slots.Select(s => source.Cell(s).Trim().ToString())).Trim();

    /// <summary>Fills the row's column; what cannot be right on its own is set aside. Returns false when there was text but no value.</summary>
    public bool Fill(ReadingRow row, FieldSource source, double barometerPsi)
    {
        if (slots.Length > 1)
        {
            var joined = Raw(source);
            return joined.Length == 0 || FillFrom(row, joined, joined, barometerPsi);
        }

        var cell = source.Cell(slots[0]);
        if (cell.Length == 0)
        {
            return true;
        }

        if (isPlainNumber && NumberText.Simple(cell, profile.Decimal, out var number))
        {
            row.Numbers[Index] = number;
            return true;
        }

        // Most cells have nothing to trim; looking at both ends is quicker than asking.
        cell = cell[0] > ' ' && cell[^1] is > ' ' and < '\x80' ? cell : cell.Trim();
        return cell.Length == 0 || FillFrom(row, cell, null, barometerPsi);
    }

    private bool FillFrom(ReadingRow row, ReadOnlySpan<char> cell, string? raw, double barometerPsi)
    {
        if (profile.Missing.Count > 0 && IsMissing(cell))
        {
            return true;
        }

        switch (kind)
        {
            case ColumnKind.Number:
                if (!NumberText.TryRead(cell, profile.Decimal, profile.Thousands, out var number))
                {
                    row.PutAside(Index, raw ?? cell.ToString(), "not_a_number", $"expected a number in {column.Unit!.Code}");
                    return false;
                }

                row.Numbers[Index] = column.Absolute ? Math.Round(Convert(number) - barometerPsi, 6) : Convert(number);
                return true;
            case ColumnKind.Whole:
                var isNumber = NumberText.TryRead(cell, profile.Decimal, profile.Thousands, out var whole) && whole == Math.Floor(whole);
                if (!isNumber || !Term.Allows(whole))
                {
                    row.PutAside(Index, raw ?? cell.ToString(), isNumber ? "out_of_range" : "not_a_number", $"expected a whole number from {Term.Low} to {Term.High}");
                    return false;
                }

                row.Wholes[Index] = (long)whole;
                return true;
            case ColumnKind.Day:
                if (!TryDay(cell, out var day))
                {
                    row.PutAside(Index, raw ?? cell.ToString(), "not_a_date", $"expected a date as {string.Join(" or ", column.Formats.DefaultIfEmpty("yyyy-MM-dd"))}");
                    return false;
                }

                row.Wholes[Index] = day;
                return true;
            case ColumnKind.Instant:
                if (!TryInstant(cell, out var ticks, out var siteDay))
                {
                    row.PutAside(Index, raw ?? cell.ToString(), "not_a_date", InstantExpected);
                    return false;
                }

                row.Wholes[Index] = ticks;
                if (isVisitedAt)
                {
                    row.VisitedOn = siteDay;
                }

                return true;
            default:
                var (text, code) = TextOf(cell);
                if (text is null)
                {
                    row.PutAside(Index, raw ?? cell.ToString(), "unknown_code", $"expected {string.Join(", ", Term.Name == "correction" ? Codes.Correction : Term.Codes)}; add what this source writes to 'values' in its profile");
                    return false;
                }

                row.Texts[Index] = text.Length == 0 ? null : text;
                row.Codes[Index] = code;
                return true;
        }
    }

    /// <summary>What a time should have looked like.</summary>
    public string InstantExpected => column.Formats.Count > 0
        ? $"expected a time as {string.Join(" or ", column.Formats)} that exists in {(profile.Zone is { } zone ? $"zone {zone.Id}" : "the profile's zone, but it names none")}"
        : "expected an ISO 8601 time with Z or an offset" + (profile.Zone is { Id: var id } ? $", or a local time that exists in zone {id}" : "; without one the profile must name a zone");

    /// <summary>How many times that occur twice, as daylight saving ended, were taken as the earlier.</summary>
    public int TakenAsEarlier { get; private set; }

    /// <summary>The number of the cell times a factor, read as if it had been written in another unit; NaN when it is not a number.</summary>
    public double Reread(FieldSource source, UcumUnit unit, double factor, double barometerPsi)
    {
        if (slots.Length != 1 || !NumberText.TryRead(source.Cell(slots[0]), profile.Decimal, profile.Thousands, out var number))
        {
            return double.NaN;
        }

        var (scale, offset) = unit.To(UcumUnit.OfColumn(Term));
        return number * factor * scale + offset - (column.Absolute ? barometerPsi : 0);
    }

    /// <summary>The unit the source is said to write; null for what is no number.</summary>
    public UcumUnit? Unit => column.Unit;

    private double Convert(double value)
    {
        // Six decimals: conversion leaves no tail of rounding noise, and no instrument reads finer.
        return exact ? value : Math.Round(value * convert.Scale + convert.Offset, 6);
    }

    private bool IsMissing(ReadOnlySpan<char> cell) =>
        cell.Length <= 12 && profile.Missing.Contains(SourceProfile.Fold(cell));

    private (string? Text, byte Code) TextOf(ReadOnlySpan<char> cell)
    {
        if (isAsWritten)
        {
            return (cell.ToString(), 0);
        }

        ref var last = ref recent[(cell.Length * 7 + cell[0] * 3 + cell[^1]) & 31];
        if (last.Cell is { } met && cell.SequenceEqual(met))
        {
            return last.Made;
        }

        if (!cached.TryGetValue(cell, out var key, out var made))
        {
            key = cell.ToString();
            var text = Make(key);
            made = (text, (byte)(text is null ? 0 : Array.IndexOf([.. Term.Codes], text) + 1));
            if (cell.Length > 64 || cache.Count >= CacheLimit)
            {
                return made;
            }

            cache[key] = made;
        }

        last = (key, made);
        return made;
    }

    private string? Make(string cell)
    {
        var folded = SourceProfile.Fold(cell);
        if (column.Values.TryGetValue(folded, out var mapped))
        {
            return mapped;
        }

        if (Term.Name == "correction")
        {
            var parts = cell.Split(['+', ',', ';', '/', '&'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
                .Select(p => column.Values.TryGetValue(SourceProfile.Fold(p), out var code) ? code : Codes.Correction.FirstOrDefault(c => SourceProfile.Fold(c) == SourceProfile.Fold(p)))
                .ToList();
            return parts.Contains(null) ? null : string.Join("+", parts.Distinct());
        }

        if (Term.Codes.Count > 0)
        {
            return Term.Codes.FirstOrDefault(c => SourceProfile.Fold(c) == folded);
        }

        if (Term.Name == "refrigerant")
        {
            var designation = folded.StartsWith('r') ? folded : "r" + folded;
            return Refrigerants.FirstOrDefault(r => SourceProfile.Fold(r) == designation)
                ?? (designation.Length is >= 3 and <= 8 && char.IsAsciiDigit(designation[1]) ? "R-" + designation[1..].ToUpperInvariant() : null);
        }

        foreach (var c in column.Drop)
        {
            cell = cell.Replace(c.ToString(), "", StringComparison.Ordinal);
        }

        return column.Upper ? cell.ToUpperInvariant() : cell;
    }

    private bool TryDay(ReadOnlySpan<char> cell, out long day)
    {
        day = 0;
        if (column.Formats.Count == 0)
        {
            var ok = IsoTime.TryDay(cell, out var iso);
            day = ok ? iso.DayNumber : 0;
            return ok && Sensible(iso.Year);
        }

        var text = cell.ToString();
        foreach (var pattern in dayPatterns)
        {
            if (pattern.Parse(text) is { Success: true, Value: var value } && Sensible(value.Year))
            {
                day = new DateOnly(value.Year, value.Month, value.Day).DayNumber;
                return true;
            }
        }

        return false;
    }

    private bool TryInstant(ReadOnlySpan<char> cell, out long ticks, out int siteDay)
    {
        (ticks, siteDay) = (0, 0);
        LocalDateTime local;
        if (column.Formats.Count == 0)
        {
            if (!IsoTime.TryRead(cell, out var written, out var offset) || !Sensible(written.Year))
            {
                return false;
            }

            if (offset is { } minutes)
            {
                var utc = DateTime.SpecifyKind(written.AddMinutes(-minutes), DateTimeKind.Utc);
                ticks = utc.Ticks;
                // The day at the site: that of the profile's zone; without one, the offset is the site's own.
                siteDay = DateOnly.FromDateTime(profile.Zone is null ? written
                    : profile.Zone == DateTimeZone.Utc ? utc
                    : Instant.FromDateTimeUtc(utc).InZone(profile.Zone).ToDateTimeUnspecified()).DayNumber;
                return true;
            }

            local = LocalDateTime.FromDateTime(written);
        }
        else
        {
            var text = cell.ToString();
            var pattern = instantPatterns.FirstOrDefault(p => p.Parse(text).Success);
            if (pattern is null)
            {
                return false;
            }

            local = pattern.Parse(text).Value;
        }

        // A local time that daylight saving skips does not exist; one that occurs twice is taken as the earlier. Without a zone it says nothing.
        if (profile.Zone?.MapLocal(local) is not { Count: > 0 } mapping || !Sensible(local.Year))
        {
            return false;
        }

        TakenAsEarlier += mapping.Count - 1;
        ticks = mapping.First().ToInstant().ToDateTimeUtc().Ticks;
        siteDay = new DateOnly(local.Year, local.Month, local.Day).DayNumber;
        return true;
    }

    private static bool Sensible(int year) => year is >= 1990 and <= 2100;
}
