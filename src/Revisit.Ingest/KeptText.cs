using System.Text;
using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>
/// The text of a rejected row that may be kept. Without private columns all of it. With them, a broken row may hold private text
/// anywhere, so a cell is kept only when it reads as a possible value of the column it stands in: a number or date in range, a known
/// code, or an identity with digits that looks like those of whole rows. Everything else is blanked.
/// </summary>
internal sealed class KeptText
{
    private const string Blank = "[not kept]";
    private const int MostShapes = 100;
    private static readonly string[] IdentityColumns = ["visit_id", "install_id", "crew_id"];
    private readonly bool hasPrivate;
    private readonly Dictionary<int, ColumnPlan> planOfSlot = [];
    private readonly Dictionary<int, HashSet<string>> shapesOfSlot = [];
    private readonly ReadingRow scratch = new();

    public KeptText(SourceProfile profile, Func<string, int> slotOf)
    {
        hasPrivate = profile.Private.Count > 0;
        foreach (var column in profile.Columns.Where(c => c.From.Count == 1 && slotOf(c.From[0]) >= 0))
        {
            var slot = slotOf(column.From[0]);
            planOfSlot[slot] = new ColumnPlan(column, profile, [0]);
            if (IdentityColumns.Contains(column.Column))
            {
                shapesOfSlot[slot] = [];
            }
        }
    }

    /// <summary>Learns how identities look in the whole rows of a block.</summary>
    public void Learn(RecordBlock block, int expected)
    {
        foreach (var (slot, shapes) in hasPrivate ? shapesOfSlot : [])
        {
            shapes.Clear();
            for (var i = 0; i < block.Count && shapes.Count < MostShapes; i++)
            {
                if (!block.Broken(i) && block.FieldCount(i) == expected)
                {
                    shapes.Add(Shape(block.Field(i, slot)));
                }
            }
        }
    }

    /// <summary>A delimited row.</summary>
    public string OfCsv(RecordBlock block, int record, char delimiter)
    {
        var cells = block.Broken(record)
            ? block.Field(record, 0).ToString().Split(delimiter)
            : [.. Enumerable.Range(0, block.FieldCount(record)).Select(i => block.Field(record, i).ToString())];
        return string.Join(delimiter, hasPrivate ? cells.Select(Keep) : cells);
    }

    /// <summary>A JSON line; of a line that cannot be parsed nothing is kept when there are private paths.</summary>
    public string OfJson(string line, bool parsed, JsonFields fields, IReadOnlyList<string> paths) =>
        !hasPrivate ? line
        : !parsed ? $"[{line.Length} characters, not kept]"
        : "{" + string.Join(", ", paths.Select((p, i) => $"{p}: {Keep(fields.Cell(i).ToString(), i)}")) + "}";

    private string Keep(string cell, int slot)
    {
        if (cell.Length == 0)
        {
            return cell;
        }

        if (!planOfSlot.TryGetValue(slot, out var plan))
        {
            return Blank;
        }

        if (shapesOfSlot.TryGetValue(slot, out var shapes))
        {
            return cell.Any(char.IsAsciiDigit) && shapes.Contains(Shape(cell)) ? cell : Blank;
        }

        if (plan.Term is { Kind: ColumnKind.Text, Codes.Count: 0 } && plan.Term.Name is not ("refrigerant" or "correction"))
        {
            return Blank;
        }

        scratch.Clear();
        plan.Fill(scratch, new OneCell(cell), 0);
        return scratch.Has(plan.Index) && (plan.Term.Kind != ColumnKind.Number || plan.Term.Allows(scratch.Numbers[plan.Index])) ? cell : Blank;
    }

    private static string Shape(ReadOnlySpan<char> text)
    {
        var shape = new StringBuilder();
        foreach (var c in text.Length > 64 ? text[..64] : text)
        {
            shape.Append(char.IsAsciiDigit(c) ? '9' : char.IsLetter(c) ? 'A' : c);
        }

        return shape.ToString();
    }
}
