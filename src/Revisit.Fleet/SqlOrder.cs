using Revisit.Records;

namespace Revisit.Fleet;

/// <summary>Order of queries by what they read, and the rules on what a layer may read.</summary>
public static class SqlOrder
{
    /// <summary>Sorts queries so that each stands after what it reads; ties by layer, then name.</summary>
    /// <exception cref="UserError">Queries read one another in a circle.</exception>
    public static IReadOnlyList<SqlModel> Sort(IReadOnlyCollection<SqlModel> models)
    {
        var left = models.OrderBy(m => m.Layer).ThenBy(m => m.Name, StringComparer.Ordinal).ToList();
        var sorted = new List<SqlModel>();
        while (left.Count > 0)
        {
            var waiting = left.Select(m => m.Name).ToHashSet(StringComparer.Ordinal);
            var next = left.Find(m => !m.Reads.Any(waiting.Contains)) ?? throw new UserError(Circle(left));
            sorted.Add(next);
            left.Remove(next);
        }

        return sorted;
    }

    /// <summary>Unknown names, names used twice, and reads that a layer must not make.</summary>
    public static IEnumerable<string> Problems(IReadOnlyCollection<SqlModel> models)
    {
        foreach (var name in models.GroupBy(m => m.Name).Where(g => g.Count() > 1).Select(g => g.Key))
        {
            yield return $"two queries are named '{name}'";
        }

        foreach (var model in models)
        {
            if (Tables.Find(model.Name) is not null)
            {
                yield return $"{model.Name}.sql bears the name of a lake table; choose another";
            }

            foreach (var read in model.Reads)
            {
                var other = models.FirstOrDefault(m => m.Name == read);
                if (other is null && Tables.Find(read) is null)
                {
                    yield return $"{model.Name}.sql reads '{read}', which is no lake table, query or step of it";
                }
                else if (!MayRead(model.Layer, other?.Layer))
                {
                    yield return $"{model.Name}.sql ({Lower(model.Layer)}) must not read '{read}' ({(other is null ? "lake table" : Lower(other.Layer))})";
                }
            }
        }
    }

    private static bool MayRead(SqlLayer reader, SqlLayer? read) => reader switch
    {
        SqlLayer.Staging => read is null,
        SqlLayer.Intermediate or SqlLayer.Marts => read is SqlLayer.Staging or SqlLayer.Intermediate,
        _ => read is not null and not SqlLayer.Checks,
    };

    private static string Lower(SqlLayer layer) => layer.ToString().ToLowerInvariant();

    private static string Circle(List<SqlModel> left)
    {
        // Every query left reads another one left, so walking along reads must come back to where it has been.
        var path = new List<SqlModel> { left[0] };
        while (true)
        {
            var next = left.First(m => path[^1].Reads.Contains(m.Name));
            var start = path.IndexOf(next);
            path.Add(next);
            if (start >= 0)
            {
                return $"Queries read one another in a circle: {string.Join(" reads ", path.Skip(start).Select(m => m.Name))}. Move the shared step into a query of its own.";
            }
        }
    }
}
