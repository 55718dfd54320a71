using Revisit.Records;

namespace Revisit.Ingest;

/// <summary>Holds the heading line of a file against its profile.</summary>
internal static class Headings
{
    private const int MostShown = 100, LongestShown = 60;

    /// <summary>What is worth saying about the headings of a file that can be read all the same.</summary>
    /// <exception cref="UserError">Rows cannot be told apart without a heading that is missing, or a heading is ambiguous: all faults are listed.</exception>
    public static List<string> Check(SourceProfile profile, List<string> headings, string sourceName, int line)
    {
        var problems = new List<string>();
        var fatal = false;
        foreach (var column in profile.Columns)
        {
            var missing = column.From.Where(f => !headings.Contains(f)).ToList();
            if (missing.Count > 0 && (column.Line > 0 || Tables.IdentityColumns.Contains(column.Column)))
            {
                fatal |= Tables.IdentityColumns.Contains(column.Column);
                problems.Add($"{Place(profile, column)}'{column.Column}' wants the heading '{string.Join("', '", missing)}', which {sourceName} line {line} does not have");
            }

            if (column.From.FirstOrDefault(f => headings.Count(h => h == f) > 1) is { } twice)
            {
                fatal = true;
                problems.Add($"{Place(profile, column)}'{column.Column}' reads '{twice}', which stands twice in the heading line of {sourceName}");
            }
        }

        foreach (var secret in profile.Private.Where(p => !headings.Contains(p)))
        {
            // A private column that is spelt otherwise would not be dropped: better to stop.
            fatal = true;
            problems.Add($"{profile.File}: the private heading '{secret}' is not in {sourceName} line {line}; write it as the file does, or take it out of 'private'");
        }

        var known = profile.Columns.SelectMany(c => c.From).Concat(profile.Private).Concat(profile.Ignored).ToHashSet();
        if (fatal)
        {
            // With private columns only known headings are shown: what stands here may be a row of data.
            var shown = profile.Private.Count == 0 ? headings : [.. headings.Where(known.Contains)];
            problems.Add($"{headings.Count} headings in {sourceName} line {line}{(shown.Count < headings.Count ? ", of which the profile knows" : "")}: {List(shown, " | ")}");
            throw new UserError($"{sourceName} does not fit the profile '{profile.Name}'; nothing was read:", problems);
        }

        var unused = headings.Where(h => h.Length > 0 && !known.Contains(h)).ToList();
        var remarks = problems.Select(p => p + "; the column stays empty").ToList();
        if (unused.Count > 0)
        {
            remarks.Add($"{sourceName}: headings not used by profile '{profile.Name}': {List(unused, ", ")}; map them, or list them under ignored or private");
        }

        return remarks;
    }

    /// <summary>The headings, but not without end: what stands where headings should may be anything.</summary>
    private static string List(List<string> headings, string between) =>
        string.Join(between, headings.Take(MostShown).Select(h => h.Length > LongestShown ? h[..LongestShown] + "…" : h)) + (headings.Count > MostShown ? $"{between}and {headings.Count - MostShown} more" : "");

    private static string Place(SourceProfile profile, ProfileColumn column) => column.Line > 0 ? $"{profile.File}:{column.Line}: " : "";
}
