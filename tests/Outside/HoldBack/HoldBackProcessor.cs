using LiveStems.Dsp;
using LiveStems.Processing.Contract;

namespace Outside.HoldBack;

/// <summary>
/// Holds a stem back while its key sounds, and begins to do so before the key does: an example of a key, of a latency, and of
/// a structural parameter.
/// </summary>
/// <remarks>
/// The peak of the key over the look-ahead goes through a one-pole follower (time constant = the fade); the gain is a straight
/// line in dB from 0 at the threshold to the depth 12 dB above it. The sound itself is delayed by the look-ahead.
/// </remarks>
public sealed class HoldBackProcessor : Processor
{
    private const int DepthDb = 0;
    private const int ThresholdDb = 1;
    private const int FadeMs = 2;
    private const int LookAheadMs = 3;
    private const double RangeDb = 12;

    private static readonly ProcessorDescription Kind = new(
        "outside-hold-back",
        "Outside hold-back",
        1,
        "Makes room for another stem: takes this one down while that one sounds.",
        [
            new ParameterSpec("depthDb", "Depth", ParameterUnit.Decibels, 0, 24, 6, Taper.Linear, "How far the sound is taken down at most."),
            new ParameterSpec("thresholdDb", "Threshold", ParameterUnit.Decibels, -60, 0, -30, Taper.Linear, "Peak level of the key above which the sound is held back."),
            new ParameterSpec("fadeMs", "Fade", ParameterUnit.Milliseconds, 1, 500, 50, Taper.Logarithmic, "How slowly it goes down and comes back."),
            new ParameterSpec("lookAheadMs", "Look-ahead", ParameterUnit.Milliseconds, 0, 20, 5, Taper.Linear, "How long before the key it begins; this is its latency.") { IsStructural = true },
        ],
        ListensToKey: true);

    private float[] left = [];
    private float[] right = [];
    private int position;
    private double envelope;
    private double smoothing;
    private double deepest;

    /// <summary>6 dB, 5 ms ahead.</summary>
    public HoldBackProcessor()
        : base(Kind)
    {
    }

    /// <inheritdoc/>
    public override int LatencyFrames => left.Length - 1;

    /// <inheritdoc/>
    public override float GainReductionDb => (float)deepest;

    /// <inheritdoc/>
    protected override void OnPrepare()
    {
        int frames = (int)Math.Round(Value(LookAheadMs) / 1000 * Format.SampleRate);
        left = new float[frames + 1];
        right = new float[frames + 1];
    }

    /// <inheritdoc/>
    protected override void OnReset()
    {
        Array.Clear(left);
        Array.Clear(right);
        position = 0;
        envelope = 0;
        deepest = 0;
        OnParametersMoved();
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved() => smoothing = Math.Exp(-1000 / (Value(FadeMs) * Format.SampleRate));

    /// <inheritdoc/>
    protected override void OnBlockStart() => deepest = 0;

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        double depth = Value(DepthDb);
        double threshold = Value(ThresholdDb);
        for (int i = 0; i < segment.Frames; i++)
        {
            // The key of a frame is read before the frame is written: without a key of its own they are the same memory.
            double key = Math.Max(Math.Abs(segment.KeyLeft[i]), Math.Abs(segment.KeyRight[i]));
            envelope = key + smoothing * (envelope - key);
            double over = Decibels.FromAmplitude(Math.Max(envelope, 1e-9)) - threshold;
            double reduction = -depth * Math.Clamp(over / RangeDb, 0, 1);
            deepest = Math.Min(deepest, reduction);
            float gain = (float)Decibels.ToAmplitude(reduction);

            left[position] = segment.Left[i];
            right[position] = segment.Right[i];
            position = position + 1 == left.Length ? 0 : position + 1;
            segment.Left[i] = gain * left[position];
            segment.Right[i] = gain * right[position];
        }
    }

    /// <inheritdoc/>
    protected override void FlushTinyState() => envelope = envelope < 1e-20 ? 0 : envelope;
}
