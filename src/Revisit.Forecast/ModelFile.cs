using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.ML;

namespace Revisit.Forecast;

/// <summary>
/// A trained model as one file: what Microsoft.ML saves of it, packed again with one fixed date so that the same model gives the same bytes,
/// and beside that how features become its vector and raw scores become chances.
/// </summary>
internal static class ModelFile
{
    private const string Frame = "revisit.json";
    private static readonly DateTimeOffset Date = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly JsonSerializerOptions Json = new() { WriteIndented = true, NewLine = "\n", PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower, NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    /// <summary>The bytes of a model.</summary>
    public static byte[] Of(MLContext ml, ITransformer model, DataViewSchema schema, ModelFrame frame)
    {
        using var saved = new MemoryStream();
        ml.Model.Save(model, schema, saved);
        saved.Position = 0;
        using var packed = new MemoryStream();
        using (var from = new ZipArchive(saved, ZipArchiveMode.Read, leaveOpen: true))
        using (var to = new ZipArchive(packed, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var entry in from.Entries.OrderBy(e => e.FullName, StringComparer.Ordinal))
            {
                using var bytes = entry.Open();
                using var copy = Entry(to, entry.FullName);
                bytes.CopyTo(copy);
            }

            using var last = Entry(to, Frame);
            JsonSerializer.Serialize(last, frame, Json);
        }

        return packed.ToArray();
    }

    /// <summary>Reads a model back.</summary>
    /// <exception cref="InvalidDataException">It is no such file.</exception>
    public static (ITransformer Model, ModelFrame Frame) Read(MLContext ml, Stream stream)
    {
        var model = ml.Model.Load(stream, out _);
        stream.Position = 0;
        using var zip = new ZipArchive(stream, ZipArchiveMode.Read, leaveOpen: true);
        using var frame = (zip.GetEntry(Frame) ?? throw new InvalidDataException($"no {Frame} in the model file")).Open();
        return (model, JsonSerializer.Deserialize<ModelFrame>(frame, Json) ?? throw new InvalidDataException($"{Frame} of the model file is empty"));
    }

    private static Stream Entry(ZipArchive zip, string name)
    {
        var entry = zip.CreateEntry(name, CompressionLevel.Optimal);
        entry.LastWriteTime = Date;
        return entry.Open();
    }
}

/// <summary>What stands around a trained model.</summary>
/// <param name="Learner">What learned.</param>
/// <param name="TrainedRows">Rows it was trained on.</param>
/// <param name="Scale">How raw scores become chances.</param>
/// <param name="Encoding">How features become a vector.</param>
internal sealed record ModelFrame(Learner Learner, int TrainedRows, ChanceScale Scale, FeatureEncoding Encoding);
