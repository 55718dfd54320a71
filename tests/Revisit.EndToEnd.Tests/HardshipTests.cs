using System.Globalization;
using Revisit.Cli;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>
/// What befalls a monthly run from outside: full disks, lost folders, damaged files, clocks, languages, names. After every fault a reader
/// sees the lake as it was or as it should be, the message says what to do, and the next run ends with the bytes of an undisturbed one.
/// </summary>
[Collection(SharedRuns.Name)]
public sealed partial class HardshipTests(Runs runs) : IDisposable
{
    private const string Month = "pipelines/monthly.yaml";
    private readonly TestFolder folder = new();

    private static bool InFull => FaultTable.InFull;

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Damaged_files_are_named_refused_and_made_again()
    {
        var at = CopyOfMonth("damaged");
        var lake = Lake.At(Path.Combine(at, "lake"));
        var (flipped, cut, gone) = (FileOf(lake, "metrics"), FileOf(lake, "crew_rates"), FileOf(lake, "landed"));
        Damage(lake, flipped, "flipped");
        Damage(lake, cut, "cut off");
        Damage(lake, gone, "gone");
        File.WriteAllText(Path.Combine(lake.Folder, "metrics", "mine.txt"), "not ours");
        var check = Command.Run(at, "check", "--lake", "lake");
        Assert.Equal(2, check.Code);
        Assert.Contains($"changed  {flipped.File}", check.Out, StringComparison.Ordinal);
        Assert.Contains($"changed  {cut.File}", check.Out, StringComparison.Ordinal);
        Assert.Contains($"missing  {gone.File}", check.Out, StringComparison.Ordinal);
        Assert.Contains("unknown  metrics/mine.txt", check.Out, StringComparison.Ordinal);
        Assert.Contains($"of {flipped.Partition}", check.Out, StringComparison.Ordinal);
        Assert.Contains("--mend", check.Error, StringComparison.Ordinal);
        Assert.Contains("its inputs must name the export", check.Error, StringComparison.Ordinal);

        var before = File.ReadAllBytes(Path.Combine(lake.Folder, Catalog.FileName));
        var refused = Assert.Throws<UserError>(() => MonthlyRun.Run(MonthlySettings.Read(Path.Combine(at, Month), anywhere: true), null));
        Assert.Contains("revisit check", refused.Message, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Path.Combine(lake.Folder, Catalog.FileName)));

        // The clock is read nowhere: times of files far off change nothing.
        foreach (var file in Directory.EnumerateFiles(at, "*", SearchOption.AllDirectories))
        {
            File.SetLastWriteTimeUtc(file, new DateTime(file.Length % 2 == 0 ? 1985 : 2061, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        }

        // The names of all sources, too.
        Damage(lake, FileOf(lake, "sources"), "flipped");
        MonthlyRun.Run(MonthlySettings.Read(Path.Combine(at, Month), anywhere: true), null, mend: true);
        Assert.True(File.Exists(Path.Combine(lake.Folder, "metrics", "mine.txt")), "a file of somebody else was removed");
        File.Delete(Path.Combine(lake.Folder, "metrics", "mine.txt"));
        AssertSame(runs.Folder, at);
        Assert.Empty(LakeCheck.Of(lake));
        FaultTable.Keep("damaged files, several at once", "a bit flipped in a table, another cut off, landed rows removed, a foreign file added, then the names of the sources; `check`, `run`, `run --mend`", 1,
            "each named with what it holds and from what it is made; the run refuses and changes nothing; `--mend` gives the bytes of an undisturbed run; the foreign file stays", check.Error, [check.Code]);
    }

    [Fact]
    public void A_mend_without_the_export_is_refused()
    {
        var at = CopyOfMonth("lacking");
        var lake = Lake.At(Path.Combine(at, "lake"));
        var rows = lake.ReadCatalog().Of("landed").First();
        var source = lake.OpenSession();
        string name;
        using (source)
        {
            using var reader = source.Query("SELECT source_name FROM sources WHERE source_id = $1", rows.Partition.Split('/')[0]);
            reader.Read();
            name = reader.GetString(0);
        }

        Damage(lake, rows, "flipped");
        var settings = Path.Combine(at, Month);
        File.WriteAllLines(settings, File.ReadAllLines(settings).Where(l => !l.Contains(name, StringComparison.Ordinal)));
        var before = FileHashes.Of(at, "lake");
        var refused = Assert.Throws<UserError>(() => MonthlyRun.Run(MonthlySettings.Read(settings, anywhere: true), null, mend: true));
        Assert.Contains(name, refused.Message, StringComparison.Ordinal);
        Assert.Contains("inputs", refused.Message, StringComparison.Ordinal);
        Assert.Contains(LakeCheck.Of(lake), f => f.File == rows.File && f.Fault == FileFault.Changed);
        Assert.True(before.Split('\n').All(l => FileHashes.Of(at, "lake").Contains(l, StringComparison.Ordinal)), "a file of the lake was lost");
    }

    [Fact]
    public void Tables_made_together_are_made_again_when_one_of_them_is_damaged()
    {
        var at = CopyOfMonth("together");
        var lake = Lake.At(Path.Combine(at, "lake"));
        Damage(lake, FileOf(lake, "coaching_examples"), "gone");
        Damage(lake, FileOf(lake, "repeated_visits"), "cut off");
        MonthlyRun.Run(MonthlySettings.Read(Path.Combine(at, Month), anywhere: true), null, mend: true);
        AssertSame(runs.Folder, at);
    }

    [TheoryInFull] // several at once are tried in every build
    [InlineData("flipped")]
    [InlineData("cut off")]
    [InlineData("gone")]
    public void Each_kind_of_file_damaged_in_turn(string how)
    {
        string[] areas = [.. Lake.At(runs.MonthlyLake).ReadCatalog().Entries.Select(e => e.Table).Distinct()];
        var (at, said) = (CopyOfMonth("each"), "");
        foreach (var area in areas)
        {
            var lake = Lake.At(Path.Combine(at, "lake"));
            var entry = FileOf(lake, area);
            Damage(lake, entry, how);
            var finding = Assert.Single(LakeCheck.Of(lake));
            Assert.Equal((entry.File, how == "gone" ? FileFault.Missing : FileFault.Changed), (finding.File, finding.Fault));
            using (var publication = lake.BeginPublication())
            {
                said = Assert.Throws<UserError>(() => publication.PathOf(entry)).Message;
                Assert.Contains(entry.File, said, StringComparison.Ordinal);
            }

            if (entry.IsTable)
            {
                Assert.Contains("revisit check", Assert.Throws<UserError>(() => lake.OpenSession()).Message, StringComparison.Ordinal);
            }

            MonthlyRun.Run(MonthlySettings.Read(Path.Combine(at, Month), anywhere: true), null, mend: true);
            AssertSame(runs.Folder, at);
        }

        FaultTable.Keep($"damaged file, {how}", $"the first file of each of {areas.Length} areas of the lake, one at a time: read by a stage, by a session, then `run --mend`", areas.Length,
            "named by the check alone, refused by every reader, made again byte for byte", said, [2]);
    }

    [FactWithOwnMounts]
    public void A_full_disk_publishes_nothing_and_is_said()
    {
        var (before, after) = Onward();
        var needed = Sizes(after) / 1024;
        var least = Sizes(before) / 1024 + 64;
        long[] sizes = InFull ? [.. Enumerable.Range(0, 14).Select(i => least + i * (2 * needed - least) / 13)] : [least + (needed - least) / 4];
        var (codes, said, full) = (new List<int>(), "", 0);
        foreach (var size in sizes)
        {
            var (disk, left) = (Directory.CreateDirectory(folder.At("disk")).FullName, folder.At($"left-{size}"));
            var ended = InMounts($"mount -t tmpfs -o size={size}k tmpfs '{disk}' && cp -a '{before}/.' '{disk}' && cd '{disk}' && {Revisit} run {Month}; code=$?; mkdir '{left}'; cp -a '{disk}/.' '{left}'; exit $code");
            codes.Add(ended.Code);
            if (ended.Code != 0)
            {
                said = ended.Fault().Error;
                Assert.Contains("No space left on device", said, StringComparison.Ordinal);
                full++;
                AssertWhole(left, before, after);
            }

            MonthlyRun.Run(MonthlySettings.Read(Path.Combine(left, Month), anywhere: true), null);
            AssertSame(after, left);
        }

        Assert.True(full > 0, "no disk was full");
        FaultTable.Keep("disk full", string.Create(CultureInfo.InvariantCulture, $"a file system in memory (tmpfs) of {sizes[0]} to {sizes[^1]} kB in a mount namespace of its own, a lake of three exports on it, a run that adds the fourth"), sizes.Length,
            $"{full} runs met the full disk, the others had room; the lake and pages stayed those of before or were those of after, and the next run with room ended with the bytes of an undisturbed one", said, codes);
    }

    [FactWithOwnMounts]
    public void A_folder_that_cannot_be_written_is_said()
    {
        var (before, after) = Start();
        var (codes, said) = (new List<int>(), "");
        foreach (var sealed_ in InFull ? new[] { "lake", "pages", "lake/readings", "." } : ["lake"])
        {
            var at = folder.At($"sealed-{sealed_.Replace('/', '-')}");
            CopyAll(before, at, Parts);
            var ended = InMounts($"mount --bind '{at}/{sealed_}' '{at}/{sealed_}' && mount -o remount,ro,bind '{at}/{sealed_}' && cd '{at}' && {Revisit} run {Month}");
            said = sealed_ == "lake" ? ended.Fault().Error : said;
            codes.Add(ended.Fault().Code);
            Assert.Contains(sealed_.Split('/')[0], ended.Error, StringComparison.Ordinal);
            Assert.DoesNotContain("Another run", ended.Error, StringComparison.Ordinal);
            AssertWhole(at, before, after);
            if (InFull)
            {
                MonthlyRun.Run(MonthlySettings.Read(Path.Combine(at, Month), anywhere: true), null);
                AssertSame(after, at);
            }
        }

        FaultTable.Keep("read-only output folder", "the lake, one of its folders, the pages and the whole folder mounted read-only", codes.Count,
            "the lake and pages stayed those of before or were those of after; the next run with rights ended with the bytes of an undisturbed one", said, codes);
    }

    [Fact]
    public void A_lake_removed_while_running_is_said() => An_output_folder_removed_while_running_is_said("lake");

    [FactInFull]
    public void Pages_removed_while_running_are_said() => An_output_folder_removed_while_running_is_said("pages");

    private void An_output_folder_removed_while_running_is_said(string removed)
    {
        var (before, after) = Start();
        var (codes, said, tries) = (new List<int>(), "", 0);
        foreach (var (stage, delay) in InFull ? Enumerable.Range(1, 5).SelectMany(s => new[] { (s, 0), (s, 150) }) : [(2, 0)])
        {
            tries++;
            var at = folder.At($"removed-{removed}-{tries}");
            CopyAll(before, at, Parts);
            using var running = new Running(at, ["run", Month]);
            WaitFor(running, string.Create(CultureInfo.InvariantCulture, $"{stage}/5 "));
            Thread.Sleep(delay);
            RemoveAll(Path.Combine(at, removed));
            var ended = running.Wait();
            codes.Add(ended.Code);
            if (ended.Code != 0)
            {
                said = ended.Fault().Error;
            }

            // What stands there now is a whole lake, or none.
            if (File.Exists(Path.Combine(at, "lake", Catalog.FileName)))
            {
                Assert.DoesNotContain(LakeCheck.Of(Lake.At(Path.Combine(at, "lake"))), f => f.IsWrong);
            }

            if (InFull)
            {
                MonthlyRun.Run(MonthlySettings.Read(Path.Combine(at, Month), anywhere: true), null);
                AssertSameTables(after, at);
            }
        }

        FaultTable.Keep($"output folder removed while running: {removed}", $"{removed} removed at the begin of each of five stages and 0.15 s later", tries,
            "the run refused to publish, or had ended and what it left was whole; the next run made the lake of an undisturbed one", said, codes);
    }

    [FactInFull] // FaultTests holds one run still and starts another
    public void Two_runs_at_once()
    {
        var (before, after) = Onward();
        var (codes, said) = (new List<int>(), "");
        for (var t = 0; t < 6; t++)
        {
            var at = folder.At($"two-{t}");
            CopyAll(before, at);
            using var one = new Running(at, ["run", Month]);
            Thread.Sleep(t * 200);
            using var two = new Running(at, ["run", Month]);
            Ended[] both = [one.Wait(), two.Wait()];
            codes.AddRange(both.Select(b => b.Code));
            Assert.Contains(both, b => b.Code == 0);
            foreach (var refused in both.Where(b => b.Code != 0))
            {
                said = refused.Fault().Error;
                Assert.Contains("Another run", said, StringComparison.Ordinal);
            }

            AssertSame(after, at);
        }

        FaultTable.Keep("two runs at once", "two processes started 0 to 1 s apart on one lake", 6, "one works, the other says so and changes nothing; the bytes are those of one run", said, codes);
    }

    [TheoryInFull] // SameBytesTests runs under two of them
    [InlineData("de_DE")]
    [InlineData("ar_SA")]
    [InlineData("he_IL")]
    [InlineData("fa_IR")]
    public void Another_language(string language)
    {
        var at = folder.At(language);
        Repository.CopyMonth(at);
        using var run = new Running(at, ["run", Month], ("LC_ALL", language + ".UTF-8"), ("LANG", language + ".UTF-8"));
        var ended = run.Wait().Well();
        AssertSame(runs.Folder, at);
        FaultTable.Keep($"language {language}", "LC_ALL and LANG: decimal comma, writing from right to left, other calendars and digits", 1, "the same bytes of lake and pages", "none", [ended.Code]);
    }

    [TheoryInFull] // SameBytesTests runs in a folder whose name holds them all
    [InlineData("spaces and commas", "two  words, and more")]
    [InlineData("quotation marks", "it's \"quoted\" `so` $HOME; --")]
    [InlineData("marks of a pattern", "a[1]b *?{x,y}")]
    [InlineData("letters of other alphabets", "Übergröße فحص 空調 ❄")]
    [InlineData("a long name", "long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long-long")]
    public void A_folder_of_another_name(string what, string name)
    {
        var at = folder.At(name);
        Repository.CopyMonth(at);
        var ended = Command.Run(at, "run", Month).Well();
        AssertSame(runs.Folder, at);
        Assert.Equal(0, Command.Run(at, "check", "--lake", "lake").Code);
        FaultTable.Keep($"folder with {what}", $"a run and a check in '{name[..Math.Min(40, name.Length)]}'", 1, "the same bytes of lake and pages", "none", [ended.Code]);
    }

    [FactInFull] // Revisit.Ingest.Tests lets one grow
    public void A_source_that_grows_while_it_is_read()
    {
        var text = File.ReadAllLines(Path.Combine(runs.Folder, "demo", "data", "readings.csv"));
        var (codes, said, refused) = (new List<int>(), "", 0);
        for (var t = 0; t < 10; t++)
        {
            var path = folder.Write($"grows-{t}/readings.csv", string.Join('\n', text) + "\n");
            using var running = new Running(folder.At($"grows-{t}"), ["ingest", "readings.csv", "--lake", "lake"]);
            while (!running.HasExited)
            {
                File.AppendAllText(path, text[1 + t].Replace(',', ',') + "\n");
                Thread.Sleep(2);
            }

            var ended = running.Wait();
            codes.Add(ended.Code);
            if (ended.Code != 0)
            {
                said = ended.Fault().Error;
                Assert.Contains("was written to while it was read", said, StringComparison.Ordinal);
                Assert.False(File.Exists(folder.At($"grows-{t}", "lake", Catalog.FileName)));
                refused++;
            }
        }

        Assert.Equal(10, refused);
        FaultTable.Keep("source grows while it is read", "a row appended to the export every 2 ms while `ingest` reads it", 10, "refused; no lake was made", said, codes);
    }

    [FactInFull("REVISIT_FAKETIME")] // the clock is banned in the code (BannedSymbols.txt), and the test of damaged files sets all times of files
    public void The_clock_jumps()
    {
        var library = Environment.GetEnvironmentVariable("REVISIT_FAKETIME")!;
        var (before, after) = Onward();
        var codes = new List<int>();
        foreach (var (first, second) in new[] { ("+10y", "-20y"), ("-20y", "+10y"), ("+0d", "-1d") })
        {
            var at = folder.At($"clock{first}{second}");
            CopyAll(Repository.Root, at, "pipelines", "synthetic-data/exports");
            WriteSettings(at, withLast: false);
            Under(first);
            WriteSettings(at, withLast: true);
            Under(second);
            AssertSame(after, at);

            void Under(string jump)
            {
                using var run = new Running(at, ["run", Month], ("LD_PRELOAD", library), ("FAKETIME", jump), ("FAKETIME_DONT_FAKE_MONOTONIC", "1"));
                codes.Add(run.Wait().Well().Code);
            }
        }

        Assert.NotEqual(before, after);
        FaultTable.Keep("clock jumps between runs", "three exports taken in with the clock years ahead, behind or as it is (libfaketime), the fourth with another jump", codes.Count / 2, "the same bytes of lake and pages: no stage reads the clock", "none", codes);
    }
}
