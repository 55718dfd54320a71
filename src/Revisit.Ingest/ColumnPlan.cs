using System.Globalization;
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
    public string InstantExpected => column.Formats.Count == 0
        ? "expected an ISO 8601 time with Z or an offset, or a local time of the profile's zone"
        : $"expected a time as {string.Join(" or ", column.Formats)} that exists in zone {profile.Zone?.Id ?? "UTC"}";

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
            // Not DateOnly.TryParseExact: this is the commonest form, and three columns of nearly every row hold one.
            var ok = TryIsoDay(cell, out var iso);
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
            if (TryUtcSeconds(cell, out var utc))
            {
                ticks = utc.Ticks;
                siteDay = profile.Zone is null || profile.Zone == DateTimeZone.Utc
                    ? DateOnly.FromDateTime(utc).DayNumber
                    : DateOnly.FromDateTime(Instant.FromDateTimeUtc(utc).InZone(profile.Zone).ToDateTimeUnspecified()).DayNumber;
                return Sensible(utc.Year);
            }

            if (cell.Length < 16 || cell[4] != '-' || cell[7] != '-' || cell[10] is not ('T' or ' ')
                || !DateTimeOffset.TryParse(cell, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var moment) || !Sensible(moment.Year))
            {
                return false;
            }

            var tail = cell[10..];
            if (tail.Contains('Z') || tail.Contains('z') || tail.Contains('+') || tail.LastIndexOf('-') > 0)
            {
                ticks = moment.UtcTicks;
                // The day at the site: that of the profile's zone; without one, the offset is the site's own.
                var atSite = profile.Zone is null ? moment.DateTime
                    : profile.Zone == DateTimeZone.Utc ? moment.UtcDateTime
                    : Instant.FromDateTimeOffset(moment).InZone(profile.Zone).ToDateTimeUnspecified();
                siteDay = DateOnly.FromDateTime(atSite).DayNumber;
                return true;
            }

            local = LocalDateTime.FromDateTime(moment.DateTime);
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

        // A local time that daylight saving skips does not exist; one that occurs twice is taken as the earlier. Without a zone it is UTC.
        var mapping = (profile.Zone ?? DateTimeZone.Utc).MapLocal(local);
        if (mapping.Count == 0 || !Sensible(local.Year))
        {
            return false;
        }

        ticks = mapping.First().ToInstant().ToDateTimeUtc().Ticks;
        siteDay = new DateOnly(local.Year, local.Month, local.Day).DayNumber;
        return true;
    }

    /// <summary>The commonest form, yyyy-MM-ddTHH:mm:ssZ, without the general parser.</summary>
    private static bool TryUtcSeconds(ReadOnlySpan<char> cell, out DateTime utc)
    {
        utc = default;
        if (cell.Length != 20 || cell[10] != 'T' || cell[13] != ':' || cell[16] != ':' || cell[19] != 'Z')
        {
            return false;
        }

        var (hour, minute, second) = (Digits(cell[11..13]), Digits(cell[14..16]), Digits(cell[17..19]));
        if (!TryIsoDay(cell, out var day) || hour is < 0 or > 23 || minute is < 0 or > 59 || second is < 0 or > 59)
        {
            return false;
        }

        utc = day.ToDateTime(new TimeOnly(hour, minute, second), DateTimeKind.Utc);
        return true;
    }

    /// <summary>A day written yyyy-MM-dd, whatever follows it.</summary>
    private static bool TryIsoDay(ReadOnlySpan<char> cell, out DateOnly result)
    {
        result = default;
        if (cell.Length < 10 || cell[4] != '-' || cell[7] != '-')
        {
            return false;
        }

        var (year, month, day) = (Digits(cell[..4]), Digits(cell[5..7]), Digits(cell[8..10]));
        if (year < 1 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month))
        {
            return false;
        }

        result = new DateOnly(year, month, day);
        return true;
    }

    private static int Digits(ReadOnlySpan<char> text)
    {
        var value = 0;
        foreach (var c in text)
        {
            if (!char.IsAsciiDigit(c))
            {
                return -1;
            }

            value = value * 10 + (c - '0');
        }

        return value;
    }

    private static bool Sensible(int year) => year is >= 1990 and <= 2100;
}
