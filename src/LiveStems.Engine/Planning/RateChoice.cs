using LiveStems.Albums.Model;

namespace LiveStems.Engine.Planning;

/// <summary>The rate a song runs at.</summary>
public static class RateChoice
{
    /// <summary>
    /// The rate asked for; else the song's own; else the rate that most of its stems have, the higher one when two are
    /// equally common.
    /// </summary>
    public static int For(Song song, IEnumerable<int> stemRates, int? askedFor) =>
        askedFor
        ?? song.SampleRate
        ?? stemRates
            .GroupBy(rate => rate)
            .OrderByDescending(group => group.Count())
            .ThenByDescending(group => group.Key)
            .Select(group => group.Key)
            .First();
}
