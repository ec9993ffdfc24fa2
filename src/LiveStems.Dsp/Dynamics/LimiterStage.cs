using System.Runtime.CompilerServices;
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
/// length of the mean (weights not negative, sum 1) and H the hold. Each of the N maxima under the mean at index i covers
/// τ when i − W + 1 ≤ τ ≤ i − N + 1, and the release only deepens, so the mean is at least d[τ] for i from τ + N − 1 to
/// τ + W − 1. The sound is held back by N − 1 + H, and W = N + 1 + 2H: the gain is low enough from H samples before the
/// interval to H samples after its end. A mean in dB keeps the inequality, and a deep reduction then moves, relative to
/// itself, as gently as a shallow one.
/// </para>
/// </remarks>
public sealed class LimiterStage
{
    // Below this share of the ceiling nothing that the grid of eighths misses can matter.
    private const float SixteenthsFrom = 0.85f;

    private readonly InterSamplePeak peakLeft;
    private readonly InterSamplePeak peakRight;
    private readonly RunningMaximum highestLeft;
    private readonly RunningMaximum highestRight;
    private readonly RunningMaximum lingeringLeft;
    private readonly RunningMaximum lingeringRight;
    private readonly LimiterEnvelope envelope;
    private readonly LookAheadDelay delayLeft;
    private readonly LookAheadDelay delayRight;
    private readonly float[] left;
    private readonly float[] right;
    private readonly float[] gains;
    private readonly bool isExact;
    private readonly int memory;
    private float link = 1;
    private bool lingers;
    private int framesApart;
    private int framesWithoutNeed;

    /// <summary>A stage; allocates everything.</summary>
    public LimiterStage(in LimiterStageShape shape, int maximumFrames)
    {
        isExact = shape.IsExact;
        peakLeft = new InterSamplePeak(shape.HalfLength, shape.KaiserBeta, shape.IsExact, maximumFrames);
        peakRight = new InterSamplePeak(shape.HalfLength, shape.KaiserBeta, shape.IsExact, maximumFrames);
        int window = shape.Smoothing + 1 + 2 * shape.Hold;
        highestLeft = new RunningMaximum(window, maximumFrames);
        highestRight = new RunningMaximum(window, maximumFrames);
        lingeringLeft = new RunningMaximum(window + shape.Lingering, maximumFrames, window);
        lingeringRight = new RunningMaximum(window + shape.Lingering, maximumFrames, window);
        envelope = new LimiterEnvelope(shape.Smoothing, maximumFrames);
        memory = window + shape.Lingering + shape.Smoothing;
        DelaySamples = peakLeft.DelaySamples + shape.Smoothing - 1 + shape.Hold;
        delayLeft = new LookAheadDelay(DelaySamples);
        delayRight = new LookAheadDelay(DelaySamples);
        int padded = maximumFrames + Vector256<float>.Count;
        left = Unmoved.Array<float>(padded);
        right = Unmoved.Array<float>(padded);
        gains = Unmoved.Array<float>(padded);
    }

    /// <summary>Samples between input and output.</summary>
    public int DelaySamples { get; }

    /// <summary>Highest true peak that came in during the last <see cref="Process"/>, as a magnitude.</summary>
    public float InputPeak { get; private set; }

    /// <summary>True when the last <see cref="Process"/> left the sound as it was, after the delay.</summary>
    internal bool LeftAlone { get; private set; }

    // With nothing needed for as long as anything is remembered, every gain is exactly 1.
    private bool IsIdle => framesWithoutNeed >= memory && envelope.IsAtRest;

    // Joined channels take in the same from then on, and differ only as long as their means remember otherwise.
    private bool OneSpeaksForBoth => link >= 1 && framesApart == 0;

    /// <summary>Sets the release; the state stays. One that adapts lingers before it begins.</summary>
    public void SetRelease(double releaseMs, bool adaptsToProgramme, double sampleRate)
    {
        if (adaptsToProgramme && !lingers)
        {
            lingeringLeft.Reset();
            lingeringRight.Reset();
        }

        lingers = adaptsToProgramme;
        envelope.SetRelease(releaseMs, adaptsToProgramme, sampleRate);
    }

    /// <summary>Sets how far both channels share the deeper reduction, 0 to 1.</summary>
    public void SetLink(float share)
    {
        if (share < 1 && OneSpeaksForBoth)
        {
            highestRight.CopyFrom(highestLeft);
            lingeringRight.CopyFrom(lingeringLeft);
            envelope.Part();
        }
        else if (share >= 1 && link < 1)
        {
            highestLeft.Join(highestRight);
            lingeringLeft.Join(lingeringRight);
            envelope.Join();
            framesApart = memory;
        }

        link = share;
    }

    /// <summary>Silence before; the release and the link stay as set.</summary>
    public void Reset()
    {
        peakLeft.Reset();
        peakRight.Reset();
        highestLeft.Reset();
        highestRight.Reset();
        lingeringLeft.Reset();
        lingeringRight.Reset();
        delayLeft.Reset();
        delayRight.Reset();
        envelope.Reset();
        framesApart = 0;
        framesWithoutNeed = memory;
        InputPeak = 0;
    }

    /// <summary>Sets state that no longer moves the gain to zero.</summary>
    public void FlushTinyState() => envelope.FlushTinyState();

    /// <summary>Limits two channels of finite samples in place.</summary>
    /// <param name="samplesLeft">Left samples.</param>
    /// <param name="samplesRight">Right samples.</param>
    /// <param name="ceilingDb">Ceiling, dBTP, as it moves in the control interval.</param>
    /// <param name="lowestCeiling">The lowest of it over the frames, as a magnitude.</param>
    /// <param name="position">Place of the first frame in the control interval.</param>
    public void Process(Span<float> samplesLeft, Span<float> samplesRight, in Ramp ceilingDb, float lowestCeiling, int position)
    {
        int frames = samplesLeft.Length;
        float closerFrom = isExact ? lowestCeiling * SixteenthsFrom : float.MaxValue;
        peakLeft.Process(samplesLeft, closerFrom, left);
        peakRight.Process(samplesRight, closerFrom, right);
        InputPeak = LimiterNeeds.FromPeaks(left, right, frames, ceilingDb, lowestCeiling, position, link);
        delayLeft.Process(samplesLeft);
        delayRight.Process(samplesRight);
        bool needed = InputPeak > lowestCeiling;
        LeftAlone = !needed && IsIdle;
        if (LeftAlone)
        {
            ClearNeeds(frames);
            return;
        }

        Ramp still = new(0);
        framesWithoutNeed = needed ? 0 : Math.Min(memory, framesWithoutNeed + frames);
        Span<float> needsLeft = left.AsSpan(0, frames);
        TakeHighest(needsLeft, highestLeft, lingeringLeft);
        if (OneSpeaksForBoth)
        {
            envelope.Process(needsLeft, needsLeft);
            GainStage.FromReduction(left, still, 0, gains, frames);
            GainStage.Apply(samplesLeft, gains);
            GainStage.Apply(samplesRight, gains);
            return;
        }

        Span<float> needsRight = right.AsSpan(0, frames);
        TakeHighest(needsRight, highestRight, lingeringRight);
        envelope.Process(needsLeft, needsRight);
        GainStage.FromReduction(left, still, 0, gains, frames);
        GainStage.Apply(samplesLeft, gains);
        GainStage.FromReduction(right, still, 0, gains, frames);
        GainStage.Apply(samplesRight, gains);
        framesApart = link >= 1 ? Math.Max(0, framesApart - frames) : framesApart;
    }

    /// <summary>
    /// In place of <see cref="Process"/>, where nothing can need a reduction: the sound is delayed and left alone, to the bit
    /// what <see cref="Process"/> would do. False, with nothing done, where something might.
    /// </summary>
    /// <param name="samplesLeft">Left samples.</param>
    /// <param name="samplesRight">Right samples.</param>
    /// <param name="highestPeak">Highest peak of the same sound by another interpolator, on the grid of eighths.</param>
    /// <param name="distance">How far apart both interpolators can lie (<see cref="HalfWayFilter.Distance"/>).</param>
    /// <param name="lowestCeiling">The lowest ceiling over the frames, as a magnitude.</param>
    internal bool PassesOver(Span<float> samplesLeft, Span<float> samplesRight, float highestPeak, double distance, float lowestCeiling)
    {
        if (!IsIdle)
        {
            return false;
        }

        // Below this sixteenths are not looked at, and the ceiling is farther away.
        double most = lowestCeiling * SixteenthsFrom - highestPeak;
        if (most <= 0 || peakLeft.MostAbove(samplesLeft, distance) >= most || peakRight.MostAbove(samplesRight, distance) >= most)
        {
            return false;
        }

        peakLeft.PassOver(samplesLeft);
        peakRight.PassOver(samplesRight);
        delayLeft.Process(samplesLeft);
        delayRight.Process(samplesRight);
        ClearNeeds(samplesLeft.Length);
        InputPeak = highestPeak;
        LeftAlone = true;
        return true;
    }

    private void ClearNeeds(int frames)
    {
        left.AsSpan(0, frames + Vector256<float>.Count).Clear();
        right.AsSpan(0, frames + Vector256<float>.Count).Clear();
    }

    private void TakeHighest(Span<float> needs, RunningMaximum highest, RunningMaximum lingering)
    {
        highest.Process(needs);
        if (lingers)
        {
            lingering.Process(needs);
        }
    }

    /// <summary>
    /// Writes the deeper of both channels' reductions in dB of the frames that left during the last
    /// <see cref="Process"/>; whole vectors, 0 behind the frames.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void WriteDeeper(Span<float> reductionDb, int frames)
    {
        if (OneSpeaksForBoth)
        {
            left.AsSpan(0, (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count).CopyTo(reductionDb);
            return;
        }

        for (int i = 0; i < frames; i += Vector256<float>.Count)
        {
            Vector256.MaxNative(Vector256.LoadUnsafe(ref left[i]), Vector256.LoadUnsafe(ref right[i]))
                .StoreUnsafe(ref reductionDb[i]);
        }
    }
}
