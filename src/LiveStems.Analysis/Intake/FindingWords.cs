namespace LiveStems.Analysis.Intake;

/// <summary>Numbers and places as the sentences of findings say them.</summary>
internal static class FindingWords
{
    /// <summary>"1:05.250".</summary>
    public static string Time(double seconds)
    {
        long thousandths = (long)Math.Round(seconds * 1000);
        return $"{thousandths / 60_000}:{thousandths / 1000 % 60:00}.{thousandths % 1000:000}";
    }

    /// <summary>A number with a true minus sign.</summary>
    public static string Number(double value, int decimals) => value.ToString("F" + decimals).Replace('-', '−');

    /// <summary>"1 place", "7 places".</summary>
    public static string Count(long count, string one, string many) => count == 1 ? $"1 {one}" : $"{count} {many}";

    /// <summary>"left", "right".</summary>
    public static string Side(int channel) => channel == 0 ? "left" : "right";

    /// <summary>"0:01.000, 0:02.500 and 3 more" of the largest places in order of time.</summary>
    public static string Places(EventList places, int sampleRate)
    {
        const int Named = 5;
        const double SameMoment = 0.001;

        // Both sides at one moment are one place to look at.
        List<SoundEvent> moments = [];
        foreach (SoundEvent place in places.Places)
        {
            if (moments.Count > 0 && place.Frame - moments[^1].Frame < SameMoment * sampleRate)
            {
                moments[^1] = place.Size > moments[^1].Size ? place : moments[^1];
            }
            else
            {
                moments.Add(place);
            }
        }

        long all = Math.Max(moments.Count, places.Count - (places.Places.Count - moments.Count));
        List<SoundEvent> largest = [.. moments.OrderByDescending(place => place.Size).Take(Named).OrderBy(place => place.Frame)];
        string names = string.Join(", ", largest.Select(place => Time((double)place.Frame / sampleRate)));
        return all > largest.Count ? $"{names} and {all - largest.Count} more" : names;
    }
}
