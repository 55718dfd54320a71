using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp.Scripting;
using Microsoft.CodeAnalysis.Scripting;

namespace Revisit.Notebooks.Tests;

/// <summary>The code cells of a notebook, run in order in one script; it stops at the first cell that fails, as Jupyter does.</summary>
/// <param name="Outputs">What each cell showed.</param>
/// <param name="Faults">Why the notebook is not as it should be, one line a cell: it does not compile, it throws, it shows something else than was saved.</param>
internal sealed record NotebookRun(IReadOnlyList<IReadOnlyList<Shown>> Outputs, IReadOnlyList<string> Faults)
{
    private static readonly ScriptOptions Options = ScriptOptions.Default
        .WithReferences(Directory.GetFiles(Path.GetDirectoryName(typeof(object).Assembly.Location)!, "System*.dll").Where(IsManaged).Select(f => MetadataReference.CreateFromFile(f)))
        .WithMetadataResolver(new BuiltReferences())
        .WithEmitDebugInformation(false);

    /// <summary>Runs a notebook.</summary>
    public static async Task<NotebookRun> Of(Notebook notebook)
    {
        var globals = new NotebookGlobals();
        var outputs = new List<IReadOnlyList<Shown>>();
        var faults = new List<string>();
        ScriptState<object?>? state = null;
        foreach (var (cell, number) in notebook.Code.Select((c, i) => (c, i + 1)))
        {
            try
            {
                state = state is null
                    ? await CSharpScript.RunAsync<object?>(cell.Source, Options, globals)
                    : await state.ContinueWithAsync<object?>(cell.Source);
                if (state.ReturnValue is { } value) globals.display(value);
            }
            catch (CompilationErrorException e)
            {
                faults.Add($"{notebook.Name}, code cell {number} does not compile: {e.Message}");
                break;
            }
            catch (Exception e)
            {
                faults.Add($"{notebook.Name}, code cell {number} throws {e.GetType().Name}: {e.Message}");
                break;
            }

            outputs.Add(globals.Take());
            if (Difference(cell.Outputs, outputs[^1]) is { } difference) faults.Add($"{notebook.Name}, code cell {number} {difference}");
        }

        return new(outputs, faults);
    }

    private static string? Difference(IReadOnlyList<Shown> saved, IReadOnlyList<Shown> shown)
    {
        if (saved.Count != shown.Count) return $"shows {shown.Count} outputs; {saved.Count} were saved";
        foreach (var (was, @is) in saved.Zip(shown))
        {
            if (was.MediaType != @is.MediaType) return $"shows {@is.MediaType}; {was.MediaType} was saved";
            if (was.Text == @is.Text) continue;
            var at = was.Text.Zip(@is.Text).TakeWhile(p => p.First == p.Second).Count();
            return $"shows \"{Around(@is.Text, at)}\"; saved was \"{Around(was.Text, at)}\"";
        }

        return null;
    }

    private static string Around(string text, int at) => text[Math.Max(0, at - 30)..Math.Min(text.Length, at + 30)].ReplaceLineEndings(" ");

    private static bool IsManaged(string path)
    {
        try
        {
            System.Reflection.AssemblyName.GetAssemblyName(path);
            return true;
        }
        catch (BadImageFormatException)
        {
            return false;
        }
    }
}
