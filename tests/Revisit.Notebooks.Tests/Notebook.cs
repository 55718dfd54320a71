using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Revisit.Notebooks.Tests;

/// <summary>What a cell showed: media type and text. Which of Jupyter's kinds of output carried it does not matter.</summary>
internal sealed record Shown(string MediaType, string Text);

/// <summary>A code cell: what it says and what it showed when the notebook was saved.</summary>
internal sealed record CodeCell(string Source, IReadOnlyList<Shown> Outputs);

/// <summary>A notebook of nbformat 4.</summary>
internal sealed class Notebook
{
    private static readonly JsonSerializerOptions Plain = new() { WriteIndented = true, IndentSize = 1, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private readonly JsonNode _root;

    private Notebook(string name, JsonNode root) => (Name, _root) = (name, root);

    /// <summary>File name, for messages.</summary>
    public string Name { get; }

    /// <summary>Name of the kernel it asks for.</summary>
    public string? Kernel => (string?)_root["metadata"]?["kernelspec"]?["name"];

    /// <summary>The code cells in order.</summary>
    public IReadOnlyList<CodeCell> Code => [.. CodeNodes.Select(c => new CodeCell(Text(c["source"]), [.. c["outputs"]!.AsArray().SelectMany(Outputs)]))];

    private IEnumerable<JsonNode> CodeNodes => _root["cells"]!.AsArray().Where(c => (string?)c!["cell_type"] == "code")!;

    /// <summary>Reads a notebook from its text.</summary>
    public static Notebook Of(string name, string json) => new(name, JsonNode.Parse(json)!);

    /// <summary>The text of the notebook with other outputs, a cell's together.</summary>
    public string With(IReadOnlyList<IReadOnlyList<Shown>> outputs)
    {
        var copy = new Notebook(Name, _root.DeepClone());
        foreach (var (cell, i) in copy.CodeNodes.Select((c, i) => (c, i)))
        {
            cell["execution_count"] = i + 1;
            cell["outputs"] = new JsonArray([.. outputs[i].Select(o => new JsonObject
            {
                ["data"] = new JsonObject { [o.MediaType] = Lines(o.Text) },
                ["metadata"] = new JsonObject(),
                ["output_type"] = "display_data",
            })]);
        }

        return copy._root.ToJsonString(Plain) + "\n";
    }

    private static IEnumerable<Shown> Outputs(JsonNode? output) => (string?)output!["output_type"] switch
    {
        "display_data" or "execute_result" => output["data"]!.AsObject().Select(d => new Shown(d.Key, Text(d.Value))),
        "stream" => [new((string)output["name"]!, Text(output["text"]))],
        var kind => [new(kind!, output.ToJsonString())],
    };

    /// <summary>A text of a notebook is one string or a list of lines that end with their line feed.</summary>
    private static string Text(JsonNode? node) => node is JsonArray lines ? string.Concat(lines.Select(l => (string?)l)) : (string)node!;

    private static JsonArray Lines(string text)
    {
        var lines = text.Split('\n');
        return new([.. lines.Select((l, i) => i < lines.Length - 1 ? l + "\n" : l).Where(l => l.Length > 0).Select(l => (JsonNode)l)]);
    }
}
