using LiveStems.Albums.Model;

namespace LiveStems.Engine.Planning;

/// <summary>The rate a song runs at.</summary>
public static class RateChoice
{
    /// <summary>
    /// The rate asked for; else the song's own; else the rate that most of its stems have, the higher one when two are
    /// equally common.
    /// </summary>
    public static int For(Song song, IReadOnlyList<int> stemRates, int? askedFor) =>
        askedFor ?? song.SampleRate ?? MostCommon(stemRates);

    private static int MostCommon(IReadOnlyList<int> rates)
    {
        (int Times, int Rate) most = default;
        foreach (int rate in rates)
        {
            int times = 0;
            foreach (int other in rates)
            {
                times += other == rate ? 1 : 0;
            }

            if (times > most.Times || (times == most.Times && rate > most.Rate))
            {
                most = (times, rate);
            }
        }

        return most.Times > 0 ? most.Rate : throw new ArgumentException("a song without stems has no rate", nameof(rates));
    }
}
