namespace Revisit.Ingest.Tests;

/// <summary>Files from which private data once got out.</summary>
public static class LeakyFiles
{
    private const string Secret = "555-0177", Name = "Invented Householder";
    private const string Sound = $"V1,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,fine,{Name}\n";

    /// <summary>What it is, text, kind of profile, rows rejected (−1: the file does not fit).</summary>
    public static TheoryData<string, string, string, int> Cases => new()
    {
        { "no heading line: the first row is told as the headings", Sound + Sound, "csv", -1 },
        { "the private heading is written otherwise", PrivateTests.Heading.Replace("Phone", "phone ", StringComparison.Ordinal).Replace("Owner", "OWNER", StringComparison.Ordinal) + Sound + Sound.Replace("2026", "x", StringComparison.Ordinal), "csv", -1 },
        { "six commas in an unquoted note", PrivateTests.Heading + Sound + $"V2,1,I1,C1,other,2026-07-14T15:00:00Z,{Secret},88,a, b, c, d, e, f, g,{Name}\n", "csv", 1 },
        { "the tail of a broken note over two lines, broken too", PrivateTests.Heading.Replace("V,N", "X1,X2,V,N", StringComparison.Ordinal) + $"a,\"b \"c\"\nd\",{Secret},\"e \"f\"\"\n", "csv", 2 },
        { "a line end inside a JSON text", $$$"""{"v":"V1","customer":{"owner":"A{{{"\n"}}}{{{Name}}}","phone":"{{{Secret}}}"}}""" + "\n", "json", 2 },
        { "a private key written with an escape", $$$"""{"v":"V1","\u0063ustomer":{"ph\u006fne":"{{{Secret}}}"}}""" + "\n", "json", 1 },
        { "a private key without quotes", $$$"""{"v":"V1",customer:{phone:"{{{Secret}}}"}}""" + "\n", "json", 1 },
        { "one field more and one less", PrivateTests.Heading + Sound + $"V2,1,I1,C1,x,other,2026-07-14T15:00:00Z,{Secret},88,{Name}\n", "csv", 1 },
    };
}
