using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Revisit.Records;

namespace Revisit.Simulator.Exports;

/// <summary>A piece of dirt of the small export.</summary>
/// <param name="At">Row of the small export from which on the next sound row gets it.</param>
/// <param name="Put">Puts it on the next sound row from a position on.</param>
internal sealed record Soil(int At, Action<ExportSheet, int> Put);

/// <summary>How a branch writes its export.</summary>
/// <param name="Name">File name with extension.</param>
/// <param name="Encoding">Encoding; its preamble is written.</param>
/// <param name="NewLine">Line ending.</param>
/// <param name="Columns">Columns in order.</param>
/// <param name="Head">Lines above the data.</param>
/// <param name="Render">A row as text, without line ending.</param>
/// <param name="Foot">Lines below the data that are no data.</param>
/// <param name="Soils">Dirt of the small export; exports of a whole fleet bear every kind of <see cref="DirtKinds"/>.</param>
internal sealed record ExportShape(
    string Name, Encoding Encoding, string NewLine, ExportColumn[] Columns, IReadOnlyList<string> Head, Func<ExportRow, string> Render, IReadOnlyList<string> Foot, Soil[] Soils)
{
    private static readonly JsonSerializerOptions Relaxed = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>What stands between two cells; none where a row is a JSON document.</summary>
    public char Delimiter { get; init; }

    /// <summary>How numbers are written.</summary>
    public CultureInfo Culture { get; init; } = CultureInfo.InvariantCulture;

    /// <summary>Unit of the contract → UCUM code of the branch, where it differs.</summary>
    public IReadOnlyDictionary<string, string> Units { get; init; } = new Dictionary<string, string>();

    /// <summary>Whether pressures are absolute.</summary>
    public bool Absolute { get; init; }

    /// <summary>Cells no moment can stand for, in the first column of a time.</summary>
    public required string[] BadTimes { get; init; }

    /// <summary>Cells no day can stand for.</summary>
    public required string[] BadDays { get; init; }

    /// <summary>The cells that hold when a row was saved, by heading.</summary>
    public required Func<DateTime, (string Heading, string Cell)[]> Saved { get; init; }

    public bool IsJson => Delimiter == '\0';

    /// <summary>A text as its cell.</summary>
    public string Text(string text) => IsJson ? JsonSerializer.Serialize(text, Relaxed).Replace("\\uE001", DirtKinds.BadBytes.ToString(), StringComparison.Ordinal) : text;

    /// <summary>A number as its cell.</summary>
    public string Number(double value, string format) => value.ToString(format, Culture);

    public int At(string plain) => Array.FindIndex(Columns, c => c.Plain == plain);

    /// <summary>The unit the branch writes a column in; null for what is no number with a unit.</summary>
    public WrittenUnit? UnitOf(string plain) => Nomenclature.TryFind(plain, out var term) && term.Kind == ColumnKind.Number && WrittenUnit.Met.TryGetValue(term.Unit, out var met)
        ? met.Single(u => u.Code == Units.GetValueOrDefault(term.Unit, term.Unit))
        : null;

    /// <summary>The number a cell holds, as written; NaN when it holds none.</summary>
    public double Read(string cell) =>
        double.TryParse(cell, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowThousands, Culture, out var value) ? value : double.NaN;

    /// <summary>What a number means in the contract's unit, written in a unit; the branch's own if none is named.</summary>
    public double Contract(ExportRow row, string plain, double written, WrittenUnit? unit = null) =>
        (unit ?? UnitOf(plain)) is { } u ? written * u.Scale + u.Offset - Barometer(row, plain) : written;

    /// <summary>The number that means a value of the contract in a unit.</summary>
    public double Written(ExportRow row, string plain, double contract, WrittenUnit unit) => (contract + Barometer(row, plain) - unit.Offset) / unit.Scale;

    private double Barometer(ExportRow row, string plain) =>
        Absolute && Nomenclature.Of(plain).Unit == "[psi]" ? Air.Barometer(row.Reading.Install.ElevationFt) / Records.Units.PascalPerPsi : 0;
}
