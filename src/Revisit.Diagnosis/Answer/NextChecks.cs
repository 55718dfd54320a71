namespace Revisit.Diagnosis;

/// <summary>What to check first and in which order, by finding: airflow before charge, the simple before the costly (common practice, no source).</summary>
internal static class NextChecks
{
    private const string Wait = "let it run 10 to 15 minutes after every change, then read everything again";
    private const string AirFirst = "airflow before charge: filter, registers, blower tap, static pressure";

    public static IReadOnlyList<string> For(in ReadingInputs x, Judgement judged)
    {
        var checks = new List<string>();
        if (ReasonText.FilterFirst(x.FilterState) is { } filter)
        {
            checks.Add(filter.TrimEnd('.'));
        }

        if (judged.Finding == "cannot_judge")
        {
            checks.AddRange(judged.CannotJudgeBecause!.Split("; "));
            checks.Add(Wait);
            return checks;
        }

        checks.AddRange(judged.Finding switch
        {
            "airflow_high" => ["filter in place and of the right size", "blower tap: next one down", "measure airflow or external static pressure to confirm", Wait, "then, and only then, judge charge"],
            "airflow_low" => ["filter, then coil face: clean?", "registers and dampers open, return not blocked, ducts not crushed", "external static pressure: high says duct or coil, low says tap", "blower tap: next one up only when static allows", Wait, "then, and only then, judge charge"],
            "charge_low" => [AirFirst, "look for the leak before adding anything", x.HasOrifice ? "add in small amounts towards the target superheat" : "add in small amounts towards the unit's own subcooling", Wait],
            "charge_high" => [AirFirst, x.HasOrifice ? "recover in small amounts towards the target superheat" : "recover in small amounts towards the unit's own subcooling", Wait, "if condensing stays high with subcooling right, think of non-condensables"],
            "liquid_restriction" => ["feel and measure the liquid line: a cold spot or a drop across the drier marks the place", "service valves fully open, line set not kinked", x.HasValve ? "valve: bulb tight, insulated and at the right place; inlet screen" : "orifice: right size, clean, not worn", "do not add refrigerant to cure a restriction"],
            "condenser_airflow_low" => ["outdoor coil clean, nothing within two feet, no discharge air drawn back in", "outdoor fan: direction, speed, blade, capacitor", Wait],
            "noncondensables" => ["system off and settled: liquid pressure against the saturation pressure at outdoor temperature; higher says gas that does not condense", "recover, evacuate, weigh in the charge by the nameplate", Wait],
            "compressor_weak" => ["compressor current and discharge line against the maker's data", "rule out a reversing valve that leaks (heat pump)", "refer to someone who can decide on the compressor"],
            _ => ["nothing to correct: write the reading down as left"],
        });
        return checks;
    }
}
