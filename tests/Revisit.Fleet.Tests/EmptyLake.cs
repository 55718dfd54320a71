using Revisit.Storage;

namespace Revisit.Fleet.Tests;

/// <summary>A lake in a folder of its own that goes with it.</summary>
internal sealed class EmptyLake : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-fleet-").FullName;

    public EmptyLake() => Lake = Lake.At(folder);

    public Lake Lake { get; }

    /// <summary>A session over the lake as it stands, empty at first.</summary>
    public LakeSession OpenSession()
    {
        using var publication = Lake.BeginPublication();
        return publication.OpenSession();
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);
}
