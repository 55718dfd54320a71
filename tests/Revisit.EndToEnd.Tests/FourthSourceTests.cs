using Revisit.Storage;

namespace Revisit.EndToEnd.Tests;

/// <summary>A branch nobody knew of: a profile is all it takes, no code.</summary>
public class FourthSourceTests
{
    // Unlike the committed exports: pipes, a word for nothing (--), bars absolute, grams, day before month, kelvin for a difference, words of its own.
    private const string Profile = """
        name: quarry-outpost
        about: Invented export in a shape of its own.
        format: { kind: csv, delimiter: "|", encoding: windows-1252, decimal: ",", preamble_lines: 1 }
        zone: America/Denver
        missing: ["--"]
        constants: { region: quarry, elevation_ft: 5200, refrigerant: R-410A }
        columns:
          visit_id: Besøk
          reading_no: Nr
          install_id: Anlegg
          crew_id: Lag
          visit_kind: { from: Grunn, values: { O: commissioning, K: quality_check } }
          visited_at: { from: [Dag, Tid], format: "dd.MM.yy HH:mm" }
          phase: { from: Steg, values: { F: as_found, E: as_left } }
          nominal_tons: Tonn
          metering: { from: Ventil, values: { T: txv, S: fixed_orifice } }
          target_subcooling_f: { from: Mål, unit: K }
          outdoor_db_f: { from: Ute, unit: Cel }
          return_db_f: { from: Inn, unit: Cel }
          return_wb_f: { from: InnVåt, unit: Cel }
          supply_db_f: { from: Ut, unit: Cel }
          suction_pressure_psig: { from: Lav, unit: bar, pressure: absolute }
          liquid_pressure_psig: { from: Høy, unit: bar, pressure: absolute }
          suction_line_f: { from: Sugerør, unit: Cel }
          liquid_line_f: { from: Væskerør, unit: Cel }
          charge_change_oz: { from: Gram, unit: g }
          notes: Merknad
        private: [Telefon]
        """;

    private const string Heading = "Merknad|Telefon|Tid|Dag|Besøk|Nr|Anlegg|Lag|Grunn|Steg|Tonn|Ventil|Mål|Ute|Inn|InnVåt|Ut|Lav|Høy|Sugerør|Væskerør|Gram";

    [Fact]
    public void A_profile_alone_takes_in_every_row()
    {
        const int Rows = 60;
        using var folder = new TestFolder();
        folder.Write("pipelines/sources/quarry-outpost.yaml", Profile);
        var lines = Enumerable.Range(0, Rows).Select(i => FormattableString.Invariant(
            $"{(i == 7 ? "\"wide | pipe, note\"" : "--")}|555-0199|{8 + i / 2 % 9:00}:{i % 60:00}|{1 + i / 2 % 28:00}.{5 + i / 2 % 4:00}.26|Q{i / 2:000}|{1 + i % 2}|A{i / 2:00}|QL|{(i % 4 < 2 ? "O" : "K")}|{(i % 2 == 0 ? "F" : "E")}|3,0|{(i / 2 % 3 == 0 ? "S" : "T")}|5,5|30,{i % 10}|25,0|17,{i % 10}|14,0|9,{i % 10}|25,{i % 10}|11,0|33,5|--"));
        File.WriteAllText(folder.At("q.txt"), "Utskrift (oppdiktet)\n" + Heading + "\n" + string.Join('\n', lines) + "\n", System.Text.Encoding.Latin1);

        var ended = Command.Run(folder.Path, "ingest", "--profile", "quarry-outpost", "q.txt").Well();
        Assert.Equal($"q.txt: {Rows} rows read = {Rows} accepted + 0 duplicates + 0 superseded + 0 rejected; 0 values set aside", ended.Lines[0]);
        Assert.DoesNotContain("555-0199", ended.Out + ended.Error, StringComparison.Ordinal);
        Command.Run(folder.Path, "diagnose").Well();

        using var session = Lake.At(folder.At("lake")).OpenSession();
        using var row = session.Query("""
            select r.visit_kind, r.phase, r.outdoor_db_f, r.suction_pressure_psig, strftime(r.visited_at, '%Y-%m-%d %H:%M'), r.notes, m.superheat_f, i.region, i.metering, i.target_subcooling_f
            from readings r join metrics m using (visit_id, reading_no) join installs i on i.install_id = r.install_id
            where r.visit_id = 'Q003' and r.reading_no = 2
            """);
        Assert.True(row.Read());
        Assert.Equal("quality_check", row.GetString(0));
        Assert.Equal("as_left", row.GetString(1));
        Assert.Equal((30.7 * 1.8) + 32, row.GetDouble(2), 0.001);

        // 9.7 bar absolute, less one standard atmosphere or the site's: 14.5037738 psi a bar (NIST SP 811, 2008, appendix B).
        Assert.InRange(row.GetDouble(3), (9.7 * 14.5037738) - 14.7, (9.7 * 14.5037738) - 12.0);
        Assert.Equal("2026-08-04 17:07", row.GetString(4));
        Assert.Equal("wide | pipe, note", row.GetString(5));
        Assert.False(row.IsDBNull(6));
        Assert.Equal("quarry", row.GetString(7));
        Assert.Equal("fixed_orifice", row.GetString(8));
        Assert.Equal(5.5 * 1.8, row.GetDouble(9), 0.001);
        Assert.False(row.Read());
        row.Close();

        using var counts = session.Query("select (select count(*) from readings), (select count(*) from metrics where superheat_f is not null), (select count(*) from findings)");
        counts.Read();
        Assert.Equal((Rows, Rows, Rows), ((int)counts.GetInt64(0), (int)counts.GetInt64(1), (int)counts.GetInt64(2)));
    }
}
