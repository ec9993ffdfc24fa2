using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Look-ahead gain that brings every inter-sample peak of its input down to a ceiling: peak → reduction in dB → highest
/// over a window → release → mean over a window → gain on the delayed sound.
/// </summary>
/// <remarks>
/// <para>
/// Let d[τ] be the reduction that the interval from sample τ to the next needs, W the window of the maximum, N the
/// length of the smoothing (weights that are not negative and sum to 1) and H the hold. Each of the N maxima under the
/// smoother at index i covers τ when i − W + 1 ≤ τ ≤ i − N + 1, and the release only deepens, so the smoothed reduction
/// is at least d[τ] for i from τ + N − 1 to τ + W − 1. The sound is held back by N − 1 + H, and W = N + 1 + 2H: then the
/// gain is low enough from H samples before the interval to H after its end. A mean in dB keeps the inequality and
/// makes the relative change of a deep reduction as gentle as that of a shallow one.
/// </para>
/// <para>
/// Two boxcars of about N/2 make a triangle: the gain has no corners.
/// </para>
/// </remarks>
public sealed class LimiterStage
{
    private readonly InterSamplePeak peakLeft;
    private readonly InterSamplePeak peakRight;
    private readonly RunningMaximum highestLeft;
    private readonly RunningMaximum highestRight;
    private readonly Ballistics release = new();
    private readonly ExactBoxcar firstLeft;
    private readonly ExactBoxcar firstRight;
    private readonly ExactBoxcar secondLeft;
    private readonly ExactBoxcar secondRight;
    private readonly LookAheadDelay delayLeft;
    private readonly LookAheadDelay delayRight;
    private readonly float[] left;
    private readonly float[] right;
    private readonly double[] mean;

    /// <summary>A stage; allocates everything.</summary>
    /// <param name="smoothing">Samples over which the gain moves (N), 2 or more.</param>
    /// <param name="hold">Samples on each side of a peak over which the gain stays down (H).</param>
    /// <param name="halfLength">Taps a side of the peak interpolator's half-way filter.</param>
    /// <param name="kaiserBeta">Its window.</param>
    /// <param name="maximumFrames">The longest run handed over at once.</param>
    public LimiterStage(int smoothing, int hold, int halfLength, double kaiserBeta, int maximumFrames)
    {
        int padded = maximumFrames + Vector256<float>.Count;
        peakLeft = new InterSamplePeak(halfLength, kaiserBeta, maximumFrames);
        peakRight = new InterSamplePeak(halfLength, kaiserBeta, maximumFrames);
        highestLeft = new RunningMaximum(smoothing + 1 + 2 * hold);
        highestRight = new RunningMaximum(smoothing + 1 + 2 * hold);
        int first = (smoothing + 1) / 2;
        int second = smoothing + 1 - first;
        firstLeft = new ExactBoxcar(first);
        firstRight = new ExactBoxcar(first);
        secondLeft = new ExactBoxcar(second);
        secondRight = new ExactBoxcar(second);
        int delay = peakLeft.DelaySamples + smoothing - 1 + hold;
        delayLeft = new LookAheadDelay(delay);
        delayRight = new LookAheadDelay(delay);
        left = new float[padded];
        right = new float[padded];
        mean = new double[maximumFrames];
    }

    /// <summary>Samples between input and output.</summary>
    public int DelaySamples => delayLeft.Samples;

    /// <summary>Highest true peak that came in during the last <see cref="Process"/>, as a magnitude.</summary>
    public float InputPeak { get; private set; }

    /// <summary>Sets the release; the state stays.</summary>
    public void SetRelease(double releaseMs, bool adaptsToProgramme, double sampleRate) =>
        release.SetTimes(0, releaseMs, adaptsToProgramme, sampleRate);

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        peakLeft.Reset();
        peakRight.Reset();
        highestLeft.Reset();
        highestRight.Reset();
        release.Reset();
        firstLeft.Reset();
        firstRight.Reset();
        secondLeft.Reset();
        secondRight.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        InputPeak = 0;
    }

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState() => release.FlushTinyState();

    /// <summary>Limits two channels of finite samples in place; the reductions in dB of the frames that leave go to the last two spans.</summary>
    /// <param name="samplesLeft">Left samples.</param>
    /// <param name="samplesRight">Right samples.</param>
    /// <param name="ceilingDb">Ceiling, dBTP, as it moves in the control interval.</param>
    /// <param name="position">Place of the first frame in the control interval.</param>
    /// <param name="link">How far both channels share the deeper reduction, 0 to 1.</param>
    /// <param name="reductionLeft">Reduction of the left channel; room for whole vectors of eight.</param>
    /// <param name="reductionRight">Reduction of the right channel; room for whole vectors of eight.</param>
    public void Process(
        Span<float> samplesLeft,
        Span<float> samplesRight,
        in Ramp ceilingDb,
        int position,
        float link,
        Span<float> reductionLeft,
        Span<float> reductionRight)
    {
        int frames = samplesLeft.Length;
        peakLeft.Process(samplesLeft, left);
        peakRight.Process(samplesRight, right);
        InputPeak = TakeNeeds(frames, ceilingDb, position, link);
        highestLeft.Process(left.AsSpan(0, frames));
        highestRight.Process(right.AsSpan(0, frames));
        release.Process(left.AsSpan(0, frames), right.AsSpan(0, frames));
        Smooth(left.AsSpan(0, frames), firstLeft, secondLeft);
        Smooth(right.AsSpan(0, frames), firstRight, secondRight);
        left.AsSpan(0, frames).CopyTo(reductionLeft);
        right.AsSpan(0, frames).CopyTo(reductionRight);
        int padded = (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count;
        GainStage.FromReduction(left.AsSpan(0, padded), frames, new Ramp(0), 0);
        GainStage.FromReduction(right.AsSpan(0, padded), frames, new Ramp(0), 0);
        delayLeft.Process(samplesLeft);
        delayRight.Process(samplesRight);
        GainStage.Apply(samplesLeft, left);
        GainStage.Apply(samplesRight, right);
    }

    private float TakeNeeds(int frames, in Ramp ceilingDb, int position, float link)
    {
        Vector256<float> share = Vector256.Create(link);
        ref float l = ref MemoryMarshal.GetArrayDataReference(left);
        ref float r = ref MemoryMarshal.GetArrayDataReference(right);
        left.AsSpan(frames, Vector256<float>.Count).Clear();
        right.AsSpan(frames, Vector256<float>.Count).Clear();
        Vector256<float> highest = Vector256<float>.Zero;
        for (int i = 0; i < frames; i += Vector256<float>.Count)
        {
            Vector256<float> peakA = Vector256.LoadUnsafe(ref l, (nuint)i);
            Vector256<float> peakB = Vector256.LoadUnsafe(ref r, (nuint)i);
            highest = Vector256.MaxNative(highest, Vector256.MaxNative(peakA, peakB));
            Vector256<float> ceiling = ceilingDb.At(position + i);
            Vector256<float> a = Vector256.MaxNative(Vector256<float>.Zero, LevelDetector.MagnitudeDb(peakA) - ceiling);
            Vector256<float> b = Vector256.MaxNative(Vector256<float>.Zero, LevelDetector.MagnitudeDb(peakB) - ceiling);
            Vector256<float> deeper = Vector256.MaxNative(a, b);
            Vector256.FusedMultiplyAdd(share, deeper - a, a).StoreUnsafe(ref l, (nuint)i);
            Vector256.FusedMultiplyAdd(share, deeper - b, b).StoreUnsafe(ref r, (nuint)i);
        }

        float result = 0;
        for (int lane = 0; lane < Vector256<float>.Count; lane++)
        {
            result = Math.Max(result, highest[lane]);
        }

        return result;
    }

    private void Smooth(Span<float> reduction, ExactBoxcar first, ExactBoxcar second)
    {
        Span<double> values = mean.AsSpan(0, reduction.Length);
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = reduction[i];
        }

        first.Process(values);
        second.Process(values);
        for (int i = 0; i < values.Length; i++)
        {
            reduction[i] = (float)values[i];
        }
    }
}
