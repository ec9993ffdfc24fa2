namespace LiveStems.Dsp.Space;

/// <summary>The delays of a cubic room.</summary>
/// <remarks>
/// Between two reflections sound travels 4 V/S on average (Kosten 1960; REFERENCES section 12), two thirds of the edge of a
/// cube. The lines of the late part last <see cref="LengthFactor"/> times as long on average, since their modes must lie
/// closer than the ear can tell: Σ M ≥ 0.15 · T · sample rate for each network (REFERENCES section 12), which at the default size holds
/// up to a T of 1.2 s, and at 15 m up to 3 s.
/// </remarks>
internal static class RoomGeometry
{
    /// <summary>Lines of both late networks together.</summary>
    public const int Lines = 2 * FeedbackDelayNetwork.Lines;

    /// <summary>Mean length of the lines in mean free paths.</summary>
    public const double LengthFactor = 2;

    /// <summary>Which straight taps are negative.</summary>
    public const uint StraightNegative = 0b1011_0100;

    /// <summary>
    /// Which crossed taps are negative: their sum is nearly 0, so that at low frequencies, where the delays do not tell the
    /// two sums apart, one side does not come out louder than the other.
    /// </summary>
    public const uint CrossedNegative = 0b1001_0110;

    private const double SpeedOfSound = 343;
    private const double Shortest = 0.52;
    private const double Longest = 1.66;

    // Taps of the early part in ms for an edge of 6 m: those that keep their side, and those that cross to the other one.
    private static readonly double[] StraightMs = [3.1, 5.3, 8.9, 12.7, 15.1, 19.7, 23.9, 28.3];
    private static readonly double[] CrossedMs = [4.3, 7.1, 10.9, 14.3, 17.3, 21.1, 25.7, 30.1];
    private static readonly double[] DiffuserMs = [1.7, 2.9, 4.3, 2.1, 3.3, 4.9];
    private const double TapEdgeMetres = 6;

    /// <summary>Lengths of all lines in frames, different primes, as even steps of pitch; those of one network in one half.</summary>
    public static int[] LineFrames(double edgeMetres, double sampleRate)
    {
        double mean = LengthFactor * 2 / 3 * edgeMetres / SpeedOfSound * sampleRate;
        double[] wishes = new double[Lines];
        int first = 0, second = FeedbackDelayNetwork.Lines;
        for (int step = 0; step < Lines; step++)
        {
            // Steps 0 3 4 7 8 … go to one network, 1 2 5 6 … to the other, so that both have the same mean.
            bool isFirst = step % 4 is 0 or 3;
            wishes[isFirst ? first++ : second++] = mean * Shortest * Math.Pow(Longest / Shortest, step / (Lines - 1.0));
        }

        int[] frames = new int[Lines];
        PrimeDelays.Fill(wishes, frames);
        return frames;
    }

    /// <summary>Delays of the all-pass filters in frames: three for the middle, three for the side; shorter in rooms below 6 m.</summary>
    public static double[] DiffuserFrames(double edgeMetres, double sampleRate) => Scaled(DiffuserMs, Math.Min(edgeMetres, TapEdgeMetres), sampleRate);

    /// <summary>Delays of the reflections that keep their side.</summary>
    public static double[] StraightTapFrames(double edgeMetres, double sampleRate) => Scaled(StraightMs, edgeMetres, sampleRate);

    /// <summary>Delays of the reflections that cross.</summary>
    public static double[] CrossedTapFrames(double edgeMetres, double sampleRate) => Scaled(CrossedMs, edgeMetres, sampleRate);

    private static double[] Scaled(double[] milliseconds, double edgeMetres, double sampleRate) =>
        [.. milliseconds.Select(ms => ms * sampleRate / 1000 * edgeMetres / TapEdgeMetres)];
}
