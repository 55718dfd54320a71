using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet;

/// <summary>All queries and macros, in an order in which each comes after what it reads.</summary>
public sealed class SqlLibrary
{
    /// <summary>The query that lists the words of columns without fixed codes.</summary>
    private const string Words = "int_words_listed";

    private static readonly Lazy<SqlLibrary> Own = new(LoadEmbedded);

    private SqlLibrary(IReadOnlyList<SqlModel> models, IReadOnlyList<string> macros)
    {
        Models = models;
        Macros = macros;
    }

    /// <summary>The queries that travel inside this assembly.</summary>
    public static SqlLibrary Embedded => Own.Value;

    /// <summary>Queries, each after what it reads.</summary>
    public IReadOnlyList<SqlModel> Models { get; }

    /// <summary>Macro definitions, each a text of CREATE MACRO statements.</summary>
    public IReadOnlyList<string> Macros { get; }

    /// <summary>The queries of one layer, in order.</summary>
    public IEnumerable<SqlModel> Of(SqlLayer layer) => Models.Where(m => m.Layer == layer);

    /// <summary>The query of a name, or null.</summary>
    public SqlModel? Find(string name) => Models.FirstOrDefault(m => m.Name == name);

    /// <summary>Columns of a lake table or of a query.</summary>
    /// <exception cref="UserError">Neither has that name.</exception>
    public IReadOnlyList<Term> ColumnsOf(string name) =>
        Find(name)?.Contract.Table(name).Terms ?? Tables.Find(name)?.Terms ?? throw new UserError($"'{name}' is neither a table of the lake nor a query");

    /// <summary>Builds a library from files: path below the SQL folder ("marts/crews.sql") to text.</summary>
    /// <exception cref="UserError">A contract is missing or wrong, a name is unknown, a layer reads what it must not, or queries read one another in a circle.</exception>
    public static SqlLibrary From(IReadOnlyDictionary<string, string> files)
    {
        var models = new List<SqlModel>();
        var macros = new List<string>();
        foreach (var (path, text) in files.Where(f => f.Key.EndsWith(".sql", StringComparison.Ordinal)).OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            var folder = path[..Math.Max(path.IndexOf('/', StringComparison.Ordinal), 0)];
            var name = Path.GetFileNameWithoutExtension(path);
            if (folder == "macros")
            {
                macros.Add(text);
                continue;
            }

            if (!Enum.TryParse<SqlLayer>(folder, ignoreCase: true, out var layer))
            {
                throw new UserError($"{path}: expected a folder staging, intermediate, marts, checks or macros");
            }

            if (!files.TryGetValue(Path.ChangeExtension(path, ".yml"), out var yml))
            {
                throw new UserError($"{path} has no {name}.yml beside it; write down its grain, columns, key and cases");
            }

            models.Add(new SqlModel(name, layer, text, yml, ModelContract.Parse(name, yml)));
        }

        var problems = SqlOrder.Problems(models).ToList();
        return problems.Count == 0
            ? new SqlLibrary(SqlOrder.Sort(models), macros)
            : throw new UserError("The queries do not fit together:", problems);
    }

    /// <summary>Defines macros and the views of staging and intermediate in a session.</summary>
    /// <param name="session">The session.</param>
    /// <param name="once">Whether queries marked as kept are run once and their rows kept in memory; do so where all marts are made, and not twice in a session.</param>
    public void DefineViews(LakeSession session, bool once = false)
    {
        ArgumentNullException.ThrowIfNull(session);
        DefineMacros(session);
        // The list of words comes before what is kept with numbers of words.
        HashSet<string>? few = null;
        foreach (var model in Models.Where(m => m.Layer is SqlLayer.Staging or SqlLayer.Intermediate).OrderBy(m => m.Layer).ThenBy(m => m.Name != Words))
        {
            if (once && model.Contract.Kept)
            {
                Keep(session, model, few ??= DefineWords(session));
            }
            else
            {
                session.Execute($"CREATE OR REPLACE VIEW {LakeSession.Name(model.Name)} AS {model.Sql}");
            }
        }
    }

    /// <summary>Runs a query and keeps its rows. Texts of few words are kept as numbers of words, ordered as the words are: they are grouped several times as quickly.</summary>
    private static void Keep(LakeSession session, SqlModel model, HashSet<string> few)
    {
        var columns = model.Contract.Columns.Select(c => c.Name).Where(few.Contains).Select(LakeSession.Name).ToList();
        var rows = columns.Count == 0 ? model.Sql : $"SELECT * REPLACE ({string.Join(", ", columns.Select(c => $"{c}::word AS {c}"))}) FROM ({model.Sql})";
        session.Execute($"CREATE TABLE {LakeSession.Name(model.Name)} AS {rows}");
    }

    /// <summary>Defines the type of words, those of codes and those listed, and gives the columns that hold them.</summary>
    private HashSet<string> DefineWords(LakeSession session)
    {
        var coded = Of(SqlLayer.Intermediate).SelectMany(m => m.Contract.Columns).Select(c => Nomenclature.Of(c.Name)).Where(t => t.Codes.Count > 0).ToList();
        var (few, words) = (coded.Select(t => t.Name).ToHashSet(StringComparer.Ordinal), coded.SelectMany(t => t.Codes).ToHashSet(StringComparer.Ordinal));
        if (Find(Words) is not null)
        {
            using var reader = session.Query($"SELECT column_name, word FROM {Words}");
            while (reader.Read())
            {
                few.Add(reader.GetString(0));
                words.Add(reader.GetString(1));
            }
        }

        session.Execute($"CREATE TYPE word AS ENUM (SELECT unnest([{string.Join(", ", words.Select(LakeSession.Literal))}]) AS word ORDER BY word)");
        return few;
    }

    /// <summary>Defines the macros in a session.</summary>
    public void DefineMacros(LakeSession session)
    {
        ArgumentNullException.ThrowIfNull(session);
        foreach (var macro in Macros)
        {
            session.Execute(macro);
        }
    }

    private static SqlLibrary LoadEmbedded()
    {
        var assembly = typeof(SqlLibrary).Assembly;
        var files = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var resource in assembly.GetManifestResourceNames().Where(n => n.StartsWith("sql/", StringComparison.Ordinal)))
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(resource)!);
            files[resource["sql/".Length..].Replace('\\', '/')] = reader.ReadToEnd();
        }

        return From(files);
    }
}
