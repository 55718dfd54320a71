namespace Revisit.Ingest;

/// <summary>The order of rows by a number, and among equal numbers by a comparison.</summary>
internal static class SortedOrder
{
    /// <summary>Places of the rows in order.</summary>
    /// <param name="keys">The number of each row.</param>
    /// <param name="ties">Compares two rows of one number.</param>
    public static int[] Of(ReadOnlySpan<long> keys, Comparison<int> ties)
    {
        int[] order = [.. Enumerable.Range(0, keys.Length)];
        var sorted = keys.ToArray();
        Array.Sort(sorted, order);
        for (var start = 0; start < sorted.Length;)
        {
            var end = start + 1;
            while (end < sorted.Length && sorted[end] == sorted[start])
            {
                end++;
            }

            order.AsSpan(start, end - start).Sort(ties);
            start = end;
        }

        return order;
    }

    /// <summary>A number that orders texts as far as their first eight characters do; those from the first one beyond U+007E on count as equal.</summary>
    public static long LeadingCharacters(string text)
    {
        long leading = 0;
        var beyond = false;
        for (var i = 0; i < sizeof(long); i++)
        {
            var c = i < text.Length ? text[i] : '\0';
            beyond |= c > '~';
            leading = leading << 8 | (beyond ? '\x7f' : c);
        }

        return leading;
    }
}
