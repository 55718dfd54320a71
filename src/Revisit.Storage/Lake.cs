using DuckDB.NET.Data;
using Revisit.Records;

namespace Revisit.Storage;

/// <summary>
/// A folder of Parquet tables with a catalog. Readers open a <see cref="LakeSession"/>; one writer at a time opens a
/// <see cref="Publication"/>.
/// </summary>
public sealed class Lake
{
    private const int OpenTries = 5;

    private Lake(string folder) => Folder = folder;

    /// <summary>Full path of the lake.</summary>
    public string Folder { get; }

    /// <summary>Opens a lake; it is made on the first publication.</summary>
    public static Lake At(string folder) => new(Path.GetFullPath(folder));

    /// <summary>The catalog as it stands.</summary>
    public Catalog ReadCatalog() => Catalog.Load(Folder);

    /// <summary>Opens a DuckDB session over what is published now.</summary>
    /// <exception cref="UserError">There is no lake in the folder.</exception>
    public LakeSession OpenSession()
    {
        if (!File.Exists(Path.Combine(Folder, Catalog.FileName)))
        {
            throw new UserError($"There is no lake in {Folder}. Make one with 'revisit ingest FILE --lake {Folder}' or 'revisit demo'.");
        }

        for (var attempt = 1; ; attempt++)
        {
            var catalog = ReadCatalog();
            try
            {
                return new LakeSession(Folder, catalog);
            }
            catch (DuckDBException e)
            {
                // Either a run published between reading the catalog and opening its files, or a file is damaged or gone.
                if (attempt < OpenTries && !catalog.SameAs(ReadCatalog()))
                {
                    continue;
                }

                throw new UserError($"The lake {Folder} names a file that cannot be read: {e.Message} Restore it, or move the lake aside and run again from the exports.");
            }
        }
    }

    /// <summary>Begins to change the lake. Nothing is visible to readers before <see cref="Publication.Commit"/>.</summary>
    /// <exception cref="UserError">Another run is working on the lake.</exception>
    public Publication BeginPublication() => new(Folder);
}
