using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Fleet;

/// <summary>All queries and macros, in an order in which each comes after what it reads.</summary>
public sealed class SqlLibrary
{
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
        foreach (var model in Models.Where(m => m.Layer is SqlLayer.Staging or SqlLayer.Intermediate))
        {
            session.Execute($"CREATE {(once && model.Contract.Kept ? "TABLE" : "OR REPLACE VIEW")} {LakeSession.Name(model.Name)} AS {model.Sql}");
        }
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
