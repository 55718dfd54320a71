using System.IO.Compression;
using System.Text;
using System.Xml.Linq;
using Revisit.Records;
using Revisit.Report.Files;
using Revisit.Storage;

namespace Revisit.Report.Tests;

/// <summary>The worklist as CSV, workbook and calendar: nothing is calculated, nothing depends on the clock, everything is there.</summary>
public sealed class WorklistFilesTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("revisit-files-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    private string At(string name) => Path.Combine(folder, name);

    private IReadOnlyList<string> Write(string into, params (string Install, string Correction)[] visits)
    {
        var lake = Lake.At(At("lake-" + into));
        using (var publication = lake.BeginPublication())
        {
            var list = new Batch(Tables.Worklist, visits.Length);
            for (var r = 0; r < visits.Length; r++)
            {
                list.Whole("rank")[r] = r + 1;
                list.Text("install_id")[r] = visits[r].Install;
                list.Text("region")[r] = "north";
                list.Text("likely_correction")[r] = visits[r].Correction;
                list.Text("cautions")[r] = Caution.PowerOff;
                list.Number("benefit_usd")[r] = -12.5;
                list.Day("visit_on")[r] = r == 1 ? null : new DateOnly(2026, 7, 6 + r);
                list.Whole("visiting_crew")[r] = 1;
                list.Whole("visit_order")[r] = 1;
                list.Whole("visit_minutes")[r] = 90;
                list.Text("starts_at")[r] = "08:14";
                list.Number("latitude")[r] = 40.5;
                list.Number("longitude")[r] = -90.25;
            }

            var needs = new Batch(Tables.VisitNeeds, 2);
            (needs.Text("install_id")[0], needs.Text("visit_need")[0], needs.Text("need_because")[0]) = ("N1", "not_needed", "does not pay");
            (needs.Text("install_id")[1], needs.Text("visit_need")[1], needs.Text("need_because")[1]) = ("N2", "cannot_judge", "@ran 4 minutes");
            var scores = new Batch(Tables.Scores, 1);
            (scores.Text("install_id")[0], scores.Day("scored_on")[0]) = ("N1", new DateOnly(2026, 6, 30));
            publication.Put(Tables.Worklist, list);
            publication.Put(Tables.VisitNeeds, needs);
            publication.Put(Tables.Scores, scores);
            publication.Commit();
        }

        using var session = lake.OpenSession();
        return WorklistFiles.Write(session, At(into));
    }

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+49")]
    [InlineData("-5")]
    [InlineData("@sum")]
    [InlineData("\tx")]
    public void A_text_stays_a_text(string text)
    {
        Write("out", (text, text), ("I2", "say \"high\", then low"));
        var lines = File.ReadAllLines(At("out/worklist.csv"));
        Assert.Contains($",'{text},", lines[1], StringComparison.Ordinal);
        Assert.Contains(",-12.5,", lines[1], StringComparison.Ordinal);
        Assert.Contains(",\"say \"\"high\"\", then low\",", lines[2], StringComparison.Ordinal);

        var sheet = Part("out", "xl/worksheets/sheet1.xml");
        Assert.DoesNotContain(sheet.Descendants(), e => e.Name.LocalName == "f");
        var cells = sheet.Descendants().Where(e => e.Name.LocalName == "c" && e.Value == text).ToList();
        Assert.Equal(2, cells.Count);
        Assert.All(cells, c => Assert.Equal("inlineStr", c.Attribute("t")?.Value));
        var number = sheet.Descendants().First(e => e.Name.LocalName == "c" && e.Value == "-12.5");
        Assert.True(number.Attribute("t")?.Value is null or "n");
    }

    [Fact]
    public void Every_list_is_a_file_and_a_sheet()
    {
        var paths = Write("out", ("I1", "airflow"));
        Assert.Equal(["worklist.csv", "worklist.xlsx", "worklist.ics", "no-visit-needed.csv", "cannot-be-judged.csv", "later.csv", "settings-that-matter.csv"], paths.Select(p => Path.GetFileName(p)));
        Assert.Equal("N1,,,,,does not pay", File.ReadAllLines(At("out/no-visit-needed.csv"))[1]);
        Assert.Equal("N2,,,,'@ran 4 minutes", File.ReadAllLines(At("out/cannot-be-judged.csv"))[1]);
        Assert.Equal(["Visits", "No visit needed", "Cannot be judged", "Later", "Settings that matter"],
            Part("out", "xl/workbook.xml").Descendants().Where(e => e.Name.LocalName == "sheet").Select(e => e.Attribute("name")!.Value));
    }

    [Fact]
    public void The_calendar_holds_the_planned_visits_with_their_cautions()
    {
        Write("out", ("I1", "airflow"), ("I2", "no day"), ("I3", "charge"));
        var calendar = Ical.Net.Calendar.Load(File.ReadAllText(At("out/worklist.ics")))!;
        Assert.Equal(2, calendar.Events.Count);
        var first = calendar.Events.OrderBy(e => e.Start).First();
        Assert.Equal(new DateTime(2026, 7, 6, 8, 14, 0), first.Start!.Value);
        Assert.Equal(new DateTime(2026, 7, 6, 9, 44, 0), first.End!.Value);
        Assert.True(first.Start.IsFloating);
        Assert.Equal(new DateTime(2026, 6, 30), first.DtStamp!.Value);
        Assert.Contains(Caution.PowerOff, first.Description, StringComparison.Ordinal);
        Assert.Equal(2, calendar.Events.Select(e => e.Uid).Distinct().Count());
        Assert.DoesNotContain("I1", first.Uid, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_list_gives_the_same_bytes_at_another_time()
    {
        var one = Write("one", ("I1", "airflow"), ("I2", "charge"));
        Thread.Sleep(2100); // zip times step by two seconds
        var other = Write("other", ("I1", "airflow"), ("I2", "charge"));
        Assert.All(one.Zip(other), p => Assert.Equal(File.ReadAllBytes(p.First), File.ReadAllBytes(p.Second)));
        using var zip = ZipFile.OpenRead(At("one/worklist.xlsx"));
        Assert.All(zip.Entries, e => Assert.Equal(1980, e.LastWriteTime.Year));
    }

    private XDocument Part(string into, string name)
    {
        using var zip = ZipFile.OpenRead(At(into + "/worklist.xlsx"));
        using var reader = new StreamReader(zip.GetEntry(name)!.Open(), Encoding.UTF8);
        return XDocument.Load(reader);
    }
}
