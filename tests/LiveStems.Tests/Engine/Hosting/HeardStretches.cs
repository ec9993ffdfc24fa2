namespace LiveStems.Tests.Engine.Hosting;

/// <summary>
/// Finds sound again in other sound, bit by bit: stretches that stand in both, in the same order. Silence, which a device gets
/// when nothing is ready, is passed over; the sound itself must be noise, so that no stretch is like another.
/// </summary>
internal static class HeardStretches
{
    private const int Recognised = 32;

    /// <summary>What is not silence.</summary>
    public static float[] Sounding(IEnumerable<float> sound) => [.. sound.Where(sample => sample != 0)];

    /// <summary>First frame and length of each stretch of some sound that stands in other sound, and where it stands there.</summary>
    public static IReadOnlyList<(int First, int Frames, int Place)> Of(float[] heard, float[] expected)
    {
        ILookup<float, int> places = Enumerable.Range(0, expected.Length).ToLookup(frame => expected[frame]);
        List<(int First, int Frames, int Place)> found = [];
        int from = 0;
        for (int i = 0; i + Recognised <= heard.Length; i++)
        {
            ReadOnlySpan<float> sought = heard.AsSpan(i, Recognised);
            foreach (int place in places[heard[i]])
            {
                if (place >= from && expected.AsSpan(place).StartsWith(sought))
                {
                    int frames = heard.AsSpan(i).CommonPrefixLength(expected.AsSpan(place));
                    found.Add((i, frames, place));
                    from = place + frames;
                    i += frames - 1;
                    break;
                }
            }
        }

        return found;
    }
}
