namespace LiveStems.Tests.Processing;

/// <summary>Finds clicks: how sharply a sound bends from frame to frame.</summary>
internal static class Smoothness
{
    /// <summary>The largest second difference, |x[n+1] − 2 x[n] + x[n−1]|.</summary>
    public static double SharpestBend(ReadOnlySpan<float> sound)
    {
        double sharpest = 0;
        for (int n = 1; n < sound.Length - 1; n++)
        {
            sharpest = Math.Max(sharpest, Math.Abs(sound[n + 1] - 2.0 * sound[n] + sound[n - 1]));
        }

        return sharpest;
    }

    /// <summary>
    /// The sharpest bend of a sine that cross-fades on a straight line to another version of itself: the sine's own
    /// curvature, twice slope times fade slope, and the corner where the fade begins or ends.
    /// </summary>
    /// <param name="omega">Radians a frame.</param>
    /// <param name="peak">Largest amplitude of either version.</param>
    /// <param name="difference">Largest amplitude of the difference of the two.</param>
    /// <param name="fadeFrames">Length of the fade.</param>
    public static double BendOfCrossFade(double omega, double peak, double difference, double fadeFrames) =>
        peak * omega * omega + 2 * difference * omega / fadeFrames + difference / fadeFrames;
}
