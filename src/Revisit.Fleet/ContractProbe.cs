using System.Globalization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet;

/// <summary>Holds a relation against a contract: columns and types, key, ranges, codes, invariants.</summary>
public static class ContractProbe
{
    /// <summary>Every promise that is broken, with the number of rows that break it; empty when all hold.</summary>
    /// <param name="session">The session.</param>
    /// <param name="relation">A view, a table or a bracketed SELECT.</param>
    /// <param name="contract">What is promised.</param>
    public static IReadOnlyList<string> Problems(LakeSession session, string relation, ModelContract contract)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(contract);
        var problems = ColumnProblems(session, relation, contract).ToList();
        if (problems.Count > 0)
        {
            return problems;
        }

        // One statement asks whether anything is broken; only then is each promise asked for, since a query of many answers takes longer to prepare than to run.
        var promises = Promises(contract).ToList();
        var key = string.Join(", ", contract.Key.Select(LakeSession.Name));
        var counts = Counts(session, $"SELECT count(*) FILTER (WHERE {string.Join(" OR ", promises.Select(p => $"({p.Broken})"))}), (SELECT count(*) FROM (SELECT {key} FROM {relation} GROUP BY {key} HAVING count(*) > 1)) FROM {relation}");
        if (counts[0] > 0)
        {
            var broken = Counts(session, $"SELECT {string.Join(", ", promises.Select(p => $"count(*) FILTER (WHERE {p.Broken})"))} FROM {relation}");
            problems.AddRange(promises.Zip(broken).Where(b => b.Second > 0).Select(b => $"{b.First.Promise}: broken by {b.Second.ToString(CultureInfo.InvariantCulture)} row(s)"));
        }

        if (counts[1] is > 0 and var twice)
        {
            problems.Add($"key ({key}): {twice.ToString(CultureInfo.InvariantCulture)} value(s) stand more than once");
        }

        return problems;
    }

    private static IEnumerable<string> ColumnProblems(LakeSession session, string relation, ModelContract contract)
    {
        var found = new List<(string Name, string Type)>();
        using (var reader = session.Query($"DESCRIBE SELECT * FROM {relation}"))
        {
            while (reader.Read())
            {
                found.Add((reader.GetString(0), reader.GetString(1)));
            }
        }

        var declared = string.Join(", ", contract.Columns.Select(c => c.Name));
        var given = string.Join(", ", found.Select(f => f.Name));
        if (declared != given)
        {
            yield return $"columns: declared {declared}; the query gives {given}";
            yield break;
        }

        foreach (var (name, type) in found)
        {
            var kind = Nomenclature.Of(name).Kind;
            var expected = LakeSession.SqlType(kind);
            var fits = type == expected || (kind == ColumnKind.Whole && type == "BIGINT") || (kind == ColumnKind.Instant && type == "TIMESTAMP WITH TIME ZONE");
            if (!fits)
            {
                yield return $"column {name}: declared {kind.ToString().ToLowerInvariant()} ({expected}); the query gives {type}";
            }
        }
    }

    private static IEnumerable<(string Promise, string Broken)> Promises(ModelContract contract)
    {
        foreach (var key in contract.Key)
        {
            yield return ($"key column {key} is there", $"{LakeSession.Name(key)} IS NULL");
        }

        foreach (var term in contract.Columns.Select(c => Nomenclature.Of(c.Name)))
        {
            var name = LakeSession.Name(term.Name);
            var low = contract.Ranges.TryGetValue(term.Name, out var range) ? range[0] : term.Low;
            var high = range is not null ? range[1] : term.High;
            if (low is { } l)
            {
                yield return ($"{term.Name} >= {Text(l)}", $"{name} < {Text(l)}");
            }

            if (high is { } h)
            {
                yield return ($"{term.Name} <= {Text(h)}", $"{name} > {Text(h)}");
            }

            if (term.Kind == ColumnKind.Number)
            {
                yield return ($"{term.Name} is finite", $"NOT isfinite({name})");
            }

            // A correction may be several codes joined by +; the term says so and has no codes.
            if (term.Codes.Count > 0)
            {
                yield return ($"{term.Name} is one of its codes", $"{name} NOT IN ({string.Join(", ", term.Codes.Select(LakeSession.Literal))})");
            }
        }

        foreach (var invariant in contract.Invariants)
        {
            yield return ($"invariant {invariant}", $"({invariant}) IS NOT TRUE");
        }
    }

    /// <summary>The one row of a query that gives counts.</summary>
    private static long[] Counts(LakeSession session, string sql)
    {
        using var reader = session.Query(sql);
        reader.Read();
        return [.. Enumerable.Range(0, reader.FieldCount).Select(reader.GetInt64)];
    }

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
