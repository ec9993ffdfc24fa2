using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// A stereo true-peak limiter of two look-ahead stages: the first shapes the gain as the ear wants it, the second takes
/// down the little that the moving gain of the first adds between samples.
/// </summary>
/// <remarks>
/// <para>
/// Why the ceiling holds. A stage's gain is low enough at every sample around an interval (<see cref="LimiterStage"/>).
/// Were it constant, the waveform between the samples would shrink with them. But it moves, and between samples the
/// output is Σ x[k] g[k] h(t − k) = g(t) x(t) + E(t), E(t) = Σ x[k] (g[k] − g(t)) h(t − k). The product g(t) x(t) is
/// below the ceiling, and as long as it stays below half the sample rate, its samples make nothing else: E comes only
/// from sound as near to that edge as the gain's spectrum is wide. Its size is bounded by the slope of the gain: with
/// |h(t)| ≤ 1/(π|t|) over K samples a side and a gain that moves by D over N samples, |E| ≤ 4 K D/(π N) of the samples'
/// magnitude, reached by one pattern of signs only.
/// </para>
/// <para>
/// So the first stage, whose D may be 20 dB, can leave some tenths of a dB on sound at the band edge, and next to nothing
/// on any other. The second stage reads that again, with three times the filter and a finer grid, and moves by it alone:
/// what it adds in turn is that fraction of a fraction. Bursts next to half the sample rate, read with its own filter,
/// passed the ceiling by 0.002 dB at most. Where the first stage has left the sound alone and read its peaks well below the
/// ceiling, the second one's filter can read nothing above it either (<see cref="LimiterStage.PassesOver"/>), and is spared.
/// </para>
/// <para>
/// Other meters have other filters, and at the band edge they disagree with it by up to 0.9 dB; for that it allows
/// (<see cref="BandEdgeAllowance"/>). In 42 000 trials of eleven kinds of hostile sound at random settings the highest
/// reading of an independent sixteenfold meter (Kaiser β 10, 64 samples a side) lay 0.007 dB below the ceiling. No finite
/// allowance covers a meter without end on alternating signs that turn: inter-sample peaks have no bound there.
/// </para>
/// </remarks>
public sealed class TruePeakLimiter
{
    /// <summary>The longest run that may be handed over at once.</summary>
    public const int ChunkFrames = 256;

    // The first stage aims this much lower, so that the second has nothing to do most of the time.
    private const float ShapingMarginDb = 0.03f;

    // Together with the window of the maximum this bridges the half period of a bass of 40 Hz: its peaks then meet a
    // gain that stands still, and its shape survives.
    private const double LingeringMs = 10;

    private readonly LimiterStage shaping;
    private readonly LimiterStage guarding;
    private readonly LookAheadDelay shapedDelay;
    private readonly QuietPassage quiet;
    private readonly double filterDistance;
    private readonly float[] shaped = new float[ChunkFrames];
    private readonly float[] guarded = new float[ChunkFrames];

    private float lowestCeilingDb = float.NaN;
    private float lowestCeiling;
    private float lowestShapingCeiling;

    /// <summary>A limiter; allocates everything.</summary>
    /// <param name="lookAheadFrames">Frames from where the gain starts to move to the peak, 2 or more.</param>
    /// <param name="sampleRate">Frames a second.</param>
    public TruePeakLimiter(int lookAheadFrames, double sampleRate)
    {
        int hold = Math.Min(16, lookAheadFrames / 4);
        int lingering = (int)Math.Round(LingeringMs * sampleRate / 1000);
        LimiterStageShape shape = new(lookAheadFrames - hold + 1, hold, lingering, 16, 5, false);
        LimiterStageShape guard = new(64, 32, 0, 48, 6, true);
        shaping = new LimiterStage(shape, ChunkFrames);
        guarding = new LimiterStage(guard, ChunkFrames);
        filterDistance = HalfWayFilter.Distance(new(shape.HalfLength, shape.KaiserBeta), new(guard.HalfLength, guard.KaiserBeta));

        // As far as the second stage looks back in what left the first, where it came in, and a run more.
        quiet = new QuietPassage(shaping.DelaySamples + guarding.DelaySamples + 2 * guard.HalfLength + ChunkFrames);
        shapedDelay = new LookAheadDelay(guarding.DelaySamples);
    }

    /// <summary>Frames between input and output.</summary>
    public int DelayFrames => shaping.DelaySamples + guarding.DelaySamples;

    /// <summary>Highest true peak that came in during the last <see cref="Process"/>, as a magnitude.</summary>
    public float InputPeak => shaping.InputPeak;

    /// <summary>Deepest reduction of what left during the last <see cref="Process"/>, dB, 0 or above.</summary>
    public float DeepestReductionDb { get; private set; }

    /// <summary>
    /// False makes the second stage look for peaks even where the first has shown that there are none: the same bits, for
    /// tests.
    /// </summary>
    internal bool MayPassOver { get; set; } = true;

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
        quiet.Reset();
        DeepestReductionDb = 0;
    }

    /// <summary>Sets state that no longer moves the gain to zero.</summary>
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
        quiet.Add(shaping.InputPeak, left.Length, shaping.LeftAlone);
        bool isPassedOver = MayPassOver
            && quiet.IsUntouched
            && guarding.PassesOver(left, right, quiet.HighestPeak, filterDistance, lowestCeiling);
        if (!isPassedOver)
        {
            guarding.Process(left, right, ceilingDb, lowestCeiling, position);
        }

        DeepestReductionDb = Deepest(left.Length);
    }

    /// <summary>
    /// Writes the whole reduction in dB, 0 or above, of each frame that left during the last <see cref="Process"/>: the
    /// deeper of both channels', which is that of both when they are linked wholly.
    /// </summary>
    public void CopyReduction(Span<float> reductionDb)
    {
        for (int i = 0; i < reductionDb.Length; i++)
        {
            reductionDb[i] = shaped[i] + guarded[i];
        }
    }

    // What the first stage did to a frame shows when the frame has come through the second.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
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
