using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet.Tests;

/// <summary>Runs the cases of one query on given rows and reports, in words, whatever differs.</summary>
internal static class CaseRunner
{
    /// <summary>All problems of a query: each case's rows and, on them, its whole contract. Empty when all is well.</summary>
    public static IReadOnlyList<string> Problems(SqlLibrary library, SqlModel model)
    {
        var problems = new List<string>();
        if (model.Contract.Cases.Count == 0)
        {
            problems.Add("no cases: give rows and the rows they must give");
        }

        foreach (var test in model.Contract.Cases)
        {
            problems.AddRange(Run(library, model, test).Select(p => $"{test.Name}: {p}"));
        }

        return problems;
    }

    private static IEnumerable<string> Run(SqlLibrary library, SqlModel model, ModelCase test)
    {
        foreach (var unread in test.Given.Keys.Except(model.Reads))
        {
            yield return $"gives rows for '{unread}', which the query does not read";
        }

        using var lake = new EmptyLake();
        using var session = lake.OpenSession();
        library.DefineMacros(session);
        foreach (var input in model.Reads)
        {
            var terms = library.ColumnsOf(input);
            var rows = test.Given.GetValueOrDefault(input) ?? [];
            var unknown = rows.SelectMany(r => r.Keys).Except(terms.Select(t => t.Name)).ToList();
            if (unknown.Count > 0)
            {
                yield return $"'{input}' has no column {string.Join(", ", unknown)}";
                yield break;
            }

            session.Execute($"CREATE OR REPLACE VIEW {LakeSession.Name(input)} AS {Rows(terms, rows)}");
        }

        session.Execute($"CREATE TEMP TABLE case_result AS {model.Sql}");
        foreach (var problem in ContractProbe.Problems(session, "case_result", model.Contract))
        {
            yield return problem;
        }

        foreach (var problem in Differences(session, model, test))
        {
            yield return problem;
        }
    }

    private static IEnumerable<string> Differences(LakeSession session, SqlModel model, ModelCase test)
    {
        var terms = model.Contract.Table(model.Name).Terms;
        var strange = test.Expect.SelectMany(r => r.Keys).Except(terms.Select(t => t.Name)).ToList();
        if (strange.Count > 0)
        {
            yield return $"expects {string.Join(", ", strange)}, which is no column";
            yield break;
        }

        // Marts and checks must come out in key order by themselves; a view has no order.
        var order = model.Layer is SqlLayer.Marts or SqlLayer.Checks ? "" : $" ORDER BY {string.Join(", ", model.Contract.Key.Select(LakeSession.Name))}";
        var columns = string.Join(", ", terms.Select(t => $"CAST({LakeSession.Name(t.Name)} AS VARCHAR)"));
        var source = order.Length == 0 ? $"({model.Sql})" : "case_result";
        var found = Texts(session, $"SELECT {columns} FROM {source}{order}", terms.Count);
        var expected = test.Expect.Count == 0 ? [] : Texts(session, $"SELECT {columns} FROM ({Rows(terms, test.Expect)})", terms.Count);
        if (test.Some)
        {
            // Missing rows leave a gap, which the counts then tell.
            int[] keys = [.. model.Contract.Key.Select(k => terms.ToList().FindIndex(t => t.Name == k))];
            found = [.. expected.Select(e => found.Find(f => Array.TrueForAll(keys, k => f[k] == e[k]))).OfType<string?[]>()];
        }

        if (found.Count != expected.Count)
        {
            yield return $"expected {expected.Count} row(s), found {found.Count}: {string.Join(" | ", found.Select(r => string.Join(", ", r.Select(v => v ?? "NULL"))))}";
            yield break;
        }

        for (var row = 0; row < found.Count; row++)
        {
            for (var c = 0; c < terms.Count; c++)
            {
                if (test.Expect[row].ContainsKey(terms[c].Name) && found[row][c] != expected[row][c])
                {
                    yield return $"row {row + 1}, {terms[c].Name}: expected {expected[row][c] ?? "NULL"}, found {found[row][c] ?? "NULL"}";
                }
            }
        }
    }

    private static string Rows(IReadOnlyList<Term> terms, List<Dictionary<string, string?>> rows)
    {
        string Select(Dictionary<string, string?>? row) => "SELECT " + string.Join(", ", terms.Select(t =>
            $"CAST({(row?.GetValueOrDefault(t.Name) is { } value ? LakeSession.Literal(value) : "NULL")} AS {LakeSession.SqlType(t.Kind)}) AS {LakeSession.Name(t.Name)}"));
        return rows.Count == 0 ? Select(null) + " WHERE false" : string.Join(" UNION ALL ", rows.Select(Select));
    }

    private static List<string?[]> Texts(LakeSession session, string sql, int columns)
    {
        using var reader = session.Query(sql);
        var rows = new List<string?[]>();
        while (reader.Read())
        {
            rows.Add([.. Enumerable.Range(0, columns).Select(c => reader.IsDBNull(c) ? null : reader.GetString(c))]);
        }

        return rows;
    }
}
