using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Parallels;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Holds an alternate, as read back from its file, against the main version: as long, not turned over, and at the same
/// place to the sample.
/// </summary>
/// <remarks>
/// Both hold the same stems, so that their cross-correlation has its peak at lag 0. It is taken of first differences, which
/// rise by 6 dB an octave: the peak of a bass alone would be too blunt to tell samples apart. Where most of the alternate
/// is in the master the peak must stand at 0. A quiet voice alone may by chance resemble the instruments more elsewhere;
/// it is refused only where that other place is twice as clear.
/// </remarks>
internal static class PhaseCheck
{
    private const int LargestLag = 4800;
    private const int FramesAtOnce = 4096;
    private const double Clear = 0.5;
    private const double ChanceCorrelation = 0.1;

    /// <summary>The correlation as they lie, −1 to +1; null where one of them is silent.</summary>
    /// <param name="path">The finished file.</param>
    /// <param name="name">What it is called, for messages.</param>
    /// <param name="master">The main version as floats at the same rate.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="DeliveryException">It lies otherwise than the master.</exception>
    public static double? Check(string path, string name, string master, CancellationToken cancellation)
    {
        using IAudioReader alternate = AudioFile.Open(path);
        using StoredSound main = new(master, FramesAtOnce);
        if (alternate.Info.Frames != main.Frames)
        {
            throw Refused(name, $"it has {alternate.Info.Frames} frames and the main version {main.Frames}");
        }

        PathDelayEstimator estimator = new(LargestLag);
        float[] left = new float[FramesAtOnce];
        float[] right = new float[FramesAtOnce];
        float[] last = new float[4];
        int frames;
        while ((frames = alternate.Read(left, right)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            main.Read(frames);
            last[0] = Differences(main.Left.AsSpan(0, frames), last[0]);
            last[1] = Differences(main.Right.AsSpan(0, frames), last[1]);
            last[2] = Differences(left.AsSpan(0, frames), last[2]);
            last[3] = Differences(right.AsSpan(0, frames), last[3]);
            estimator.Add(main.Left.AsSpan(0, frames), main.Right.AsSpan(0, frames), left.AsSpan(0, frames), right.AsSpan(0, frames));
        }

        if (estimator.Finish() is not { } found)
        {
            return null;
        }

        bool isClear = Math.Abs(found.Correlation) >= Clear
            ? found.Correlation < 0 || Math.Abs(found.Samples) >= 0.5
            : Math.Abs(found.Correlation) > 2 * Math.Max(0, found.CorrelationNow) + ChanceCorrelation;
        return !isClear ? found.CorrelationNow
            : throw Refused(name, Math.Abs(found.Samples) < 0.5 ? "it is turned over against the main version" : $"it lies {Math.Abs(found.Samples):0.0} samples {(found.Samples > 0 ? "behind" : "before")} the main version");
    }

    private static float Differences(Span<float> samples, float before)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            float sample = samples[i];
            samples[i] = sample - before;
            before = sample;
        }

        return before;
    }

    private static DeliveryException Refused(string name, string why) => new($"{name}: {why}; nothing was delivered");
}
