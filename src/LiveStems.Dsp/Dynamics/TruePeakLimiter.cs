using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A stereo true-peak limiter of two look-ahead stages: the first shapes the gain as the ear wants it, the second takes
/// down the little that the moving gain of the first adds between samples.
/// </summary>
public sealed class TruePeakLimiter
{
    /// <summary>The longest run that may be handed over at once.</summary>
    public const int ChunkFrames = 256;

    private readonly LimiterStage shaping;
    private readonly LimiterStage guarding;
    private readonly LookAheadDelay shapingDelayLeft;
    private readonly LookAheadDelay shapingDelayRight;
    private readonly float[] shapedLeft = new float[ChunkFrames + 8];
    private readonly float[] shapedRight = new float[ChunkFrames + 8];
    private readonly float[] guardedLeft = new float[ChunkFrames + 8];
    private readonly float[] guardedRight = new float[ChunkFrames + 8];

    /// <summary>A limiter; allocates everything.</summary>
    /// <param name="lookAheadFrames">Frames over which the gain moves before a peak.</param>
    public TruePeakLimiter(int lookAheadFrames)
    {
        int hold = Math.Min(16, lookAheadFrames / 4);
        shaping = new LimiterStage(Math.Max(2, lookAheadFrames - hold), hold, 32, 6, ChunkFrames);
        guarding = new LimiterStage(64, 32, 64, 6, ChunkFrames);
        shapingDelayLeft = new LookAheadDelay(guarding.DelaySamples);
        shapingDelayRight = new LookAheadDelay(guarding.DelaySamples);
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
        guarding.SetRelease(20, false, sampleRate);
    }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        shaping.Reset();
        guarding.Reset();
        shapingDelayLeft.Reset();
        shapingDelayRight.Reset();
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
    /// <param name="link">How far both channels share the deeper reduction, 0 to 1.</param>
    public void Process(Span<float> left, Span<float> right, in Ramp ceilingDb, int position, float link)
    {
        shaping.Process(left, right, ceilingDb, position, link, shapedLeft, shapedRight);
        guarding.Process(left, right, ceilingDb, position, link, guardedLeft, guardedRight);
        shapingDelayLeft.Process(shapedLeft.AsSpan(0, left.Length));
        shapingDelayRight.Process(shapedRight.AsSpan(0, left.Length));
        float deepest = 0;
        for (int i = 0; i < left.Length; i++)
        {
            deepest = Math.Max(deepest, Math.Max(shapedLeft[i] + guardedLeft[i], shapedRight[i] + guardedRight[i]));
        }

        DeepestReductionDb = deepest;
    }
}
