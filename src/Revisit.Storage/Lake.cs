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

    /// <summary>Says so when there is no lake.</summary>
    /// <exception cref="UserError">There is no lake in the folder.</exception>
    public void MustExist()
    {
        if (!File.Exists(Path.Combine(Folder, Catalog.FileName)))
        {
            throw new UserError($"There is no lake in {Folder}. Make one with 'revisit ingest FILE --lake {Folder}' or 'revisit demo'.");
        }
    }

    /// <summary>Opens a DuckDB session over what is published now.</summary>
    /// <param name="reads">Which tables will be read: their files are held against the catalog first. Null means all.</param>
    /// <exception cref="UserError">There is no lake in the folder, or files are not as they were written.</exception>
    public LakeSession OpenSession(Func<string, bool>? reads = null)
    {
        MustExist();
        for (var attempt = 1; ; attempt++)
        {
            var catalog = ReadCatalog();
            try
            {
                new CheckedFiles(Folder).MustBeSound(catalog.Entries.Where(e => reads is null || reads(e.Table)));
                return new LakeSession(Folder, catalog);
            }
            catch (Exception) when (attempt < OpenTries && !catalog.SameAs(ReadCatalog()))
            {
                // A run published between reading the catalog and opening its files.
            }
            catch (DuckDBException e)
            {
                throw LakeCheck.Damaged(Folder, catalog.Entries) is { Count: > 0 } damaged
                    ? LakeCheck.Error(Folder, damaged)
                    : new UserError($"The lake {Folder} cannot be opened: {e.Message} Its files are as they were written; if they come from a newer version of this program, use that one.");
            }
        }
    }

    /// <summary>Begins to change the lake. Nothing is visible to readers before <see cref="Publication.Commit"/>.</summary>
    /// <exception cref="UserError">Another run is working on the lake.</exception>
    public Publication BeginPublication() => new(Folder);
}
