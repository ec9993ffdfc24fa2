using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A stereo true-peak limiter of two look-ahead stages: the first shapes the gain as the ear wants it, the second takes
/// down the little that the moving gain of the first adds between samples.
/// </summary>
public sealed class TruePeakLimiter
{
    /// <summary>The longest run that may be handed over at once.</summary>
    public const int ChunkFrames = 128;

    // The first stage aims this much lower, so that the second has nothing to do most of the time.
    private const float ShapingMarginDb = 0.03f;

    private readonly LimiterStage shaping;
    internal readonly LimiterStage guarding;
    private readonly LookAheadDelay shapedDelay;
    private readonly float[] shaped = new float[ChunkFrames];
    private readonly float[] guarded = new float[ChunkFrames];

    private float lowestCeilingDb = float.NaN;
    private float lowestCeiling;
    private float lowestShapingCeiling;

    /// <summary>A limiter; allocates everything.</summary>
    /// <param name="lookAheadFrames">Frames over which the gain moves before a peak.</param>
    public TruePeakLimiter(int lookAheadFrames)
    {
        int hold = Math.Min(16, lookAheadFrames / 4);
        shaping = new LimiterStage(new LimiterStageShape(Math.Max(2, lookAheadFrames - hold), hold, 16, 5, false), ChunkFrames);
        guarding = new LimiterStage(new LimiterStageShape(64, 32, 48, 6, true), ChunkFrames);
        shapedDelay = new LookAheadDelay(guarding.DelaySamples);
    }

    /// <summary>Frames between input and output.</summary>
    public int DelayFrames => shaping.DelaySamples + guarding.DelaySamples;

    /// <summary>Highest true peak that came in during the last <see cref="Process"/>, as a magnitude.</summary>
    public float InputPeak => shaping.InputPeak;

    /// <summary>Deepest reduction of what left during the last <see cref="Process"/>, dB, 0 or above.</summary>
    public float DeepestReductionDb { get; private set; }

    /// <summary>Sets the release; the state stays.</summary>
    public void SetRelease(double releaseMs, bool adaptsToProgramme, double sampleRate)
    {
        shaping.SetRelease(releaseMs, adaptsToProgramme, sampleRate);
        guarding.SetRelease(0, false, sampleRate);
    }

    /// <summary>Sets how far both channels share the deeper reduction, 0 to 1.</summary>
    public void SetLink(float share)
    {
        shaping.SetLink(share);
        guarding.SetLink(share);
    }

    /// <summary>Silence before; release and link stay as set.</summary>
    public void Reset()
    {
        shaping.Reset();
        guarding.Reset();
        shapedDelay.Reset();
        DeepestReductionDb = 0;
    }

    /// <summary>Sets state below 1e-20 dB to zero.</summary>
    public void FlushTinyState()
    {
        shaping.FlushTinyState();
        guarding.FlushTinyState();
    }

    /// <summary>Limits up to <see cref="ChunkFrames"/> frames of finite samples in place.</summary>
    /// <param name="left">Left samples.</param>
    /// <param name="right">Right samples.</param>
    /// <param name="ceilingDb">Ceiling, dBTP, as it moves in the control interval.</param>
    /// <param name="position">Place of the first frame in the control interval.</param>
    public void Process(Span<float> left, Span<float> right, in Ramp ceilingDb, int position)
    {
        float lowestDb = Math.Min(ceilingDb.Start, ceilingDb.Target);
        if (lowestDb != lowestCeilingDb)
        {
            lowestCeilingDb = lowestDb;
            lowestCeiling = (float)Decibels.ToAmplitude(lowestDb);
            lowestShapingCeiling = (float)Decibels.ToAmplitude(lowestDb - ShapingMarginDb);
        }

        shaping.Process(left, right, ceilingDb.Raised(-ShapingMarginDb), lowestShapingCeiling, position);
        guarding.Process(left, right, ceilingDb, lowestCeiling, position);
        DeepestReductionDb = Deepest(left.Length);
    }

    // What the first stage did to a frame shows when the frame has come through the second.
    private float Deepest(int frames)
    {
        int padded = (frames + Vector256<float>.Count - 1) & -Vector256<float>.Count;
        shaping.WriteDeeper(shaped, frames);
        shapedDelay.Process(shaped.AsSpan(0, frames));
        guarding.WriteDeeper(guarded, frames);
        Vector256<float> deepest = Vector256<float>.Zero;
        for (int i = 0; i < padded; i += Vector256<float>.Count)
        {
            deepest = Vector256.MaxNative(deepest, Vector256.LoadUnsafe(ref shaped[i]) + Vector256.LoadUnsafe(ref guarded[i]));
        }

        return Magnitude.LargestLane(deepest);
    }
}
