namespace Revisit.Notebooks.Tests;

/// <summary>Text that a notebook shows as HTML.</summary>
/// <param name="Text">The markup.</param>
public sealed record HtmlText(string Text);

/// <summary>What a cell may call beyond C# and its references: the two functions of the .NET kernel that our notebooks use, under its names.</summary>
public sealed class NotebookGlobals
{
    private readonly List<Shown> _shown = [];

    /// <summary>Marks a text as HTML.</summary>
    public HtmlText HTML(string content) => new(content);

    /// <summary>Shows a value below the cell.</summary>
    /// <param name="value">HTML or a text; anything else would look otherwise in another kernel.</param>
    /// <exception cref="NotSupportedException">Another type.</exception>
    public void display(object value) => _shown.Add(value switch
    {
        HtmlText html => new("text/html", html.Text),
        string text => new("text/plain", text),
        _ => throw new NotSupportedException($"A notebook here shows HTML or a text, not {value.GetType().Name}."),
    });

    internal IReadOnlyList<Shown> Take()
    {
        Shown[] taken = [.. _shown];
        _shown.Clear();
        return taken;
    }
}
