namespace Revisit.Ingest;

/// <summary>
/// Reads dates and times of ISO 8601 (extended format, to the second or its fraction; 24:00 is the midnight at the day's end,
/// as ISO 8601-1:2019/Amd 1:2022 has it again, from memory). Not the general parser of the
/// framework: that takes "10:00 GMT" or "10:00 AM Tue" too, and what the tail means must not be guessed.
/// </summary>
internal static class IsoTime
{
    private const int LongestOffsetMinutes = 14 * 60;

    /// <summary>A day written yyyy-MM-dd, whatever follows it.</summary>
    public static bool TryDay(ReadOnlySpan<char> cell, out DateOnly result)
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

    /// <summary>A time written yyyy-MM-dd, T or a space, HH:mm, perhaps seconds with a fraction, perhaps Z or ±HH:mm, ±HHmm or ±HH.</summary>
    /// <param name="cell">The text.</param>
    /// <param name="written">Day and clock as written, to 100 ns.</param>
    /// <param name="offset">Minutes east of UTC; null when none is written.</param>
    public static bool TryRead(ReadOnlySpan<char> cell, out DateTime written, out int? offset)
    {
        (written, offset) = (default, null);
        if (cell.Length < 16 || cell[10] is not ('T' or ' ') || cell[13] != ':' || !TryDay(cell, out var day))
        {
            return false;
        }

        var (hour, minute, second, fraction) = (Digits(cell[11..13]), Digits(cell[14..16]), 0, 0L);
        var tail = cell[16..];
        if (tail.Length > 0 && tail[0] == ':')
        {
            second = tail.Length >= 3 ? Digits(tail[1..3]) : -1;
            tail = second < 0 ? [] : tail[3..];
            if (tail.Length > 0 && tail[0] is '.' or ',')
            {
                var end = tail[1..].IndexOfAnyExceptInRange('0', '9');
                var digits = end < 0 ? tail[1..] : tail[1..(end + 1)];
                if (digits.Length == 0)
                {
                    return false;
                }

                for (var i = 0; i < 7; i++)
                {
                    fraction = fraction * 10 + (i < digits.Length ? digits[i] - '0' : 0);
                }

                tail = tail[(digits.Length + 1)..];
            }
        }

        var endOfDay = hour == 24 && minute == 0 && second == 0 && fraction == 0;
        if (hour < 0 || (hour > 23 && !endOfDay) || minute is < 0 or > 59 || second is < 0 or > 59 || !TryOffset(tail.Length > 1 && tail[0] == ' ' ? tail[1..] : tail, out offset))
        {
            return false;
        }

        written = day.ToDateTime(new TimeOnly(hour % 24, minute, second)).AddTicks(fraction + (endOfDay ? TimeSpan.TicksPerDay : 0));
        return true;
    }

    private static bool TryOffset(ReadOnlySpan<char> tail, out int? offset)
    {
        offset = null;
        if (tail.Length == 0 || tail is "Z" or "z")
        {
            offset = tail.Length == 0 ? null : 0;
            return true;
        }

        if (tail[0] is not ('+' or '-') || tail.Length is not (3 or 5 or 6) || (tail.Length == 6 && tail[3] != ':'))
        {
            return false;
        }

        var (hours, minutes) = (Digits(tail[1..3]), tail.Length == 3 ? 0 : Digits(tail[^2..]));
        offset = (tail[0] == '-' ? -1 : 1) * (hours * 60 + minutes);
        return hours >= 0 && minutes is >= 0 and < 60 && Math.Abs(offset.Value) <= LongestOffsetMinutes;
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
}
