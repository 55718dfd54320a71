using System.Text;

namespace Revisit.Simulator.Exports;

/// <summary>A kind of dirt a branch's rows can bear.</summary>
/// <param name="At">Row of the small export from which on the next sound row gets it; null if only exports of a whole fleet bear it.</param>
/// <param name="Put">Puts it on the next sound row from a position on.</param>
internal sealed record Soil(int? At, Action<ExportSheet, int> Put);

/// <summary>How a branch writes its export.</summary>
/// <param name="Name">File name with extension.</param>
/// <param name="Encoding">Encoding; its preamble is written.</param>
/// <param name="NewLine">Line ending.</param>
/// <param name="Columns">Columns in order.</param>
/// <param name="Head">Lines above the data.</param>
/// <param name="Render">A row as text, without line ending.</param>
/// <param name="Foot">Lines below the data that are no data.</param>
/// <param name="Soils">Every kind of dirt it can bear.</param>
internal sealed record ExportShape(
    string Name, Encoding Encoding, string NewLine, ExportColumn[] Columns, IReadOnlyList<string> Head, Func<ExportRow, string> Render, IReadOnlyList<string> Foot, Soil[] Soils);
