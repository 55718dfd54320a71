using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Revisit.Diagnosis;
using Revisit.Records;

namespace Revisit.Cli;

/// <summary>An answer as text or JSON, in the units of the trade or SI.</summary>
internal sealed class ReadingText(bool si)
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly MetricId[] Shown =
    [
        MetricId.Split, MetricId.ExpectedSplit, MetricId.Evaporating, MetricId.Superheat, MetricId.TargetSuperheat, MetricId.Condensing, MetricId.Subcooling,
        MetricId.CondensingOverOutdoor, MetricId.LiquidOverOutdoor, MetricId.ReturnWetBulb, MetricId.ReturnHumidity, MetricId.ImpliedAirflow, MetricId.MeasuredAirflow, MetricId.TotalCapacity,
    ];

    private static readonly HashSet<string> ShownColumns = [.. Shown.Select(Column)];

    public string Plain(ReadingAnswer a, string? name)
    {
        var text = new StringBuilder();
        if (name is not null)
        {
            text.Append(name).Append('\n');
        }

        var judged = a.Judged;
        text.Append(judged.Finding == "cannot_judge"
            ? "Cannot judge: " + judged.CannotJudgeBecause + ".\n"
            : string.Create(CultureInfo.InvariantCulture, $"{Sentence(judged.Finding)}, {100 * judged.Probability:0} % sure{(judged.Severity > 0 ? string.Create(CultureInfo.InvariantCulture, $", about {100 * judged.Severity:0} % off") : "")}.\n"));
        if (judged.Reasons is not null)
        {
            text.Append(judged.Reasons).Append('\n');
        }

        if (judged.Usable)
        {
            var others = Causes.All.Select((c, i) => (Cause: c, P: judged.Probabilities[i])).Where(c => c.Cause != judged.Finding && c.P >= 0.02).OrderByDescending(c => c.P).ToList();
            text.Append(others.Count == 0 ? "" : "It could also be: " + string.Join(", ", others.Select(o => string.Create(CultureInfo.InvariantCulture, $"{o.Cause.Replace('_', ' ')} {100 * o.P:0} %"))) + ".\n");
        }

        if (judged.CapacityLossPct > 0 || judged.ExtraEnergyPct > 0)
        {
            text.Append(CultureInfo.InvariantCulture, $"It costs about {judged.CapacityLossPct:0.#} % of the cooling and {judged.ExtraEnergyPct:0.#} % more energy for the same cooling.\n");
        }

        text.Append("\nReadings (± one standard uncertainty)\n");
        foreach (var id in Shown.Where(id => a.Metrics[id].Has))
        {
            var (value, sd, unit) = InUnits(Term(id), a.Metrics[id].Value, a.Metrics[id].Sd);
            text.Append(CultureInfo.InvariantCulture, $"  {Words(Column(id)),-28} {value,8:0.#} ± {sd:0.0} {unit}\n");
        }

        foreach (var (reason, metrics) in a.Lacking)
        {
            var shown = metrics.Where(ShownColumns.Contains).Select(Words).ToList();
            text.Append(shown.Count == 0 ? "" : $"  {reason}: no {string.Join(", ", shown)}\n");
        }

        text.Append("\nCheck first, in this order\n");
        for (var i = 0; i < a.Checks.Count; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {i + 1}. {a.Checks[i]}\n");
        }

        if (a.Change is { } change)
        {
            text.Append("\nLook for, 10 to 15 minutes after: ").Append(change.Correction).Append('\n');
            foreach (var (words, column, value, shift) in Expected(change).Where(e => double.IsFinite(e.Value)))
            {
                var (v, s, unit) = InUnits(Nomenclature.Of(column), value, shift);
                text.Append(CultureInfo.InvariantCulture, $"  {words,-28} {v,8:0.#} {unit}{(double.IsNaN(s) ? "" : string.Create(CultureInfo.InvariantCulture, $" ({s:+0.#;−0.#;0})"))}\n");
            }
        }

        if (a.Freeze is { } freeze)
        {
            var (now, mild, unit) = InUnits(Nomenclature.Of("freeze_margin_f"), freeze.NowF, freeze.MildestF);
            text.Append(CultureInfo.InvariantCulture, $"\nFreeze watch: {now:0.#} {unit} over freezing now{(double.IsNaN(mild) ? "" : string.Create(CultureInfo.InvariantCulture, $", about {mild:0.#} {unit} in the mildest weather with a loaded filter"))}; {freeze.Advice}.\n");
        }

        text.Append("\nCautions: ").Append(string.Join("; ", a.Cautions)).Append(".\n\n");
        return text.ToString();
    }

    public string Json(ReadingAnswer a, string? name)
    {
        double? Finite(double v) => double.IsFinite(v) ? Math.Round(v, 3) : null;
        var judged = a.Judged;
        return JsonSerializer.Serialize(
            new Dictionary<string, object?>
            {
                ["reading"] = name,
                ["finding"] = judged.Finding,
                ["probability"] = Finite(judged.Probability),
                ["severity"] = Finite(judged.Severity),
                ["probabilities"] = judged.Usable ? Causes.All.Select((c, i) => (c, judged.Probabilities[i])).ToDictionary(c => c.c, c => c.Item2) : null,
                ["reasons"] = judged.Reasons,
                ["cannot_judge_because"] = judged.CannotJudgeBecause,
                ["capacity_loss_pct"] = Finite(judged.CapacityLossPct),
                ["extra_energy_pct"] = Finite(judged.ExtraEnergyPct),
                ["metrics"] = Enum.GetValues<MetricId>().ToDictionary(Column, id =>
                {
                    var m = a.Metrics[id];
                    var (value, sd, unit) = InUnits(Term(id), m.Value, m.Sd);
                    return new Dictionary<string, object?> { ["value"] = Finite(value), ["sd"] = Finite(sd), ["unit"] = unit, ["missing"] = m.Missing };
                }),
                ["checks"] = a.Checks,
                ["after_correction"] = a.Change is not { } change ? null : Expected(change).Where(e => double.IsFinite(e.Value)).ToDictionary(e => e.Column, e =>
                {
                    var (value, shift, unit) = InUnits(Nomenclature.Of(e.Column), e.Value, e.Shift);
                    return new Dictionary<string, object?> { ["value"] = Finite(value), ["change"] = Finite(shift), ["unit"] = unit };
                }),
                ["correction"] = a.Change?.Correction,
                ["freeze_watch"] = a.Freeze?.Advice,
                ["cautions"] = a.Cautions,
            },
            Indented) + "\n";
    }

    private static IEnumerable<(string Words, string Column, double Value, double Shift)> Expected(CorrectionForecast c) =>
    [
        ("temperature split", "temperature_split_f", c.SplitF, c.Shift.TemperatureSplitF),
        ("suction pressure", "suction_pressure_psig", c.SuctionPsig, double.NaN),
        ("superheat", "superheat_f", c.SuperheatF, c.Shift.SuperheatF),
        ("liquid pressure", "liquid_pressure_psig", c.LiquidPsig, double.NaN),
        ("subcooling", "subcooling_f", c.SubcoolingF, c.Shift.SubcoolingF),
    ];

    private static string Column(MetricId id) => Tables.MetricColumns[(int)id];

    private static Term Term(MetricId id) => Nomenclature.Of(Column(id));

    private static string Words(string name)
    {
        foreach (var unit in (string[])["_cfm_per_ton", "_btuh", "_pct", "_f"])
        {
            name = name.EndsWith(unit, StringComparison.Ordinal) ? name[..^unit.Length] : name;
        }

        return name.Replace('_', ' ').Replace(" wb", " wet bulb", StringComparison.Ordinal).Replace(" rh", " humidity", StringComparison.Ordinal);
    }

    private static string Sentence(string code) => char.ToUpperInvariant(code[0]) + code[1..].Replace('_', ' ');

    /// <summary>A value and a difference of its kind in the units asked for.</summary>
    private (double Value, double Difference, string Unit) InUnits(Term term, double value, double difference) => (term.Unit, si) switch
    {
        ("[degF]", false) => (value, difference, "°F"),
        ("[degF]", true) => (Units.CelsiusFromFahrenheit(value), difference / 1.8, "°C"),
        ("[degR]", false) => (value, difference, "°F"),
        ("[degR]", true) => (value / 1.8, difference / 1.8, "K"),
        ("[psi]", false) => (value, difference, "psig"),
        ("[psi]", true) => (value * Units.PascalPerPsi / 1000, difference * Units.PascalPerPsi / 1000, "kPa gauge"),
        ("%", _) => (value, difference, "%"),
        ("[Btu_IT]/h", true) => (value * Units.WattPerBtuh, difference * Units.WattPerBtuh, "W"),
        ("[Btu_IT]/h", false) => (value, difference, "Btu/h"),
        _ => (value, difference, term.Name.EndsWith("cfm_per_ton", StringComparison.Ordinal) ? "cfm a ton" : term.Unit),
    };
}
