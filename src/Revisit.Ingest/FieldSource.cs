namespace Revisit.Ingest;

/// <summary>Gives the cells of the current source record by slot; a slot of −1 or a cell that is not there is empty.</summary>
internal abstract class FieldSource
{
    public abstract ReadOnlySpan<char> Cell(int slot);
}

/// <summary>One cell, whatever the slot.</summary>
internal sealed class OneCell(string value) : FieldSource
{
    public override ReadOnlySpan<char> Cell(int slot) => value;
}
