using System.Globalization;
using System.Text;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Revisit.Records;
using Revisit.Storage;

namespace Revisit.Report.Files;

/// <summary>
/// Planned visits as iCalendar (RFC 5545). Times are those of the site's clock, without a zone; the stamp is the day of the scores and the
/// identity is made from install and day, so that the same plan gives the same bytes and a later one replaces it.
/// </summary>
internal static class VisitCalendar
{
    public static byte[] Of(Batch worklist, DateOnly scoredOn)
    {
        var calendar = new Ical.Net.Calendar { ProductId = "-//Revisit//Worklist//EN", Method = "PUBLISH" };
        var stamp = new CalDateTime(scoredOn.Year, scoredOn.Month, scoredOn.Day, 0, 0, 0, "UTC");
        for (var r = 0; r < worklist.Rows; r++)
        {
            if (worklist.Day("visit_on")[r] is { } on && TimeOnly.TryParseExact(worklist.Text("starts_at")[r], "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var at))
            {
                calendar.Events.Add(Event(worklist, r, on, at, stamp));
            }
        }

        return Encoding.UTF8.GetBytes(new CalendarSerializer(calendar).SerializeToString() ?? "");
    }

    private static CalendarEvent Event(Batch worklist, int r, DateOnly on, TimeOnly at, CalDateTime stamp)
    {
        string Text(string column) => worklist.Text(column)[r] ?? "";
        var start = on.ToDateTime(at);
        var end = start.AddMinutes(worklist.Whole("visit_minutes")[r] ?? 0);
        var planned = new CalendarEvent
        {
            Uid = Fingerprint.Of([Text("install_id"), on.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)])[..24] + "@revisit",
            DtStamp = stamp,
            Start = Floating(start),
            End = Floating(end),
            Summary = $"Go back to {Text("install_id")} ({Text("region")}, crew {worklist.Whole("visiting_crew")[r]})",
            Description = string.Join("\n",
            [
                "Likely correction: " + Text("likely_correction"), "First checks: " + Text("first_checks"), "Bring: " + Text("bring"),
                "Cautions: " + Text("cautions"), "Why: " + Text("score_because"),
            ]),
        };
        var (latitude, longitude) = (worklist.Number("latitude")[r], worklist.Number("longitude")[r]);
        if (double.IsFinite(latitude) && double.IsFinite(longitude))
        {
            planned.GeographicLocation = new GeographicLocation(latitude, longitude);
        }

        return planned;
    }

    private static CalDateTime Floating(DateTime time) => new(time.Year, time.Month, time.Day, time.Hour, time.Minute, 0);
}
