using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.GainAndAlignment;

/// <summary>Gain, polarity, swap, delay and a DC block; every move is free of clicks.</summary>
/// <remarks>
/// Order: delay, DC block, swap, polarity, gain. The delay is what the processor is for, so it is no part of
/// <see cref="LatencyFrames"/>. With <c>fractionalDelay</c> on, fractions of a frame are kept by an interpolator whose half
/// length is the latency, whatever the delay; off, the delay is rounded to whole frames and there is no latency.
/// </remarks>
public sealed class GainProcessor : Processor
{
    private const int Gain = 0;
    private const int InvertLeft = 1;
    private const int InvertRight = 2;
    private const int Swap = 3;
    private const int Delay = 4;
    private const int FractionalDelay = 5;
    private const int DcBlock = 6;

    private const double DcBlockHz = 5;
    private const int LongestDelay = 4800;

    private readonly StereoCascade cascade = new(MatchedDesign.MaximumSections);
    private readonly FilterBand dcBlock;
    private StereoDelay delay = new(0, isFractional: false);
    private ChannelMatrix matrix;
    private LinearRamp gain;
    private bool isFading;

    /// <summary>A new processor that changes nothing.</summary>
    public GainProcessor()
        : base(Kind) => dcBlock = new FilterBand(cascade, 0);

    /// <summary>What the processor is.</summary>
    public static ProcessorDescription Kind { get; } = new(
        "gain",
        "Gain and alignment",
        1,
        "Sets level, polarity, sides and timing of a stem, and takes out DC.",
        [
            new("gainDb", "Gain", ParameterUnit.Decibels, -60, 24, 0, Taper.Linear, "Level; the lowest setting is not silence."),
            ParameterSpec.Switch("invertLeft", "Invert left", false, "Turns the polarity of the left channel over."),
            ParameterSpec.Switch("invertRight", "Invert right", false, "Turns the polarity of the right channel over."),
            ParameterSpec.Switch("swap", "Swap", false, "Exchanges left and right."),
            new("delaySamples", "Delay", ParameterUnit.Samples, 0, LongestDelay, 0, Taper.Linear, "Moves the sound later."),
            ParameterSpec.Switch("fractionalDelay", "Fractional delay", false, "Keeps fractions of a sample of the delay, at the price of latency.")
                with { IsStructural = true },
            ParameterSpec.Switch("dcBlock", "DC block", false, "Takes away DC: first-order high-pass at 5 Hz."),
        ],
        ListensToKey: false);

    /// <inheritdoc/>
    public override int LatencyFrames => delay.LatencyFrames;

    /// <inheritdoc/>
    protected override bool SegmentsFollowControlInterval => isFading;

    private int FadeFrames => GlideSteps * ControlInterval;

    /// <inheritdoc/>
    protected override void OnPrepare() => delay = new StereoDelay(LongestDelay, IsOn(FractionalDelay));

    /// <inheritdoc/>
    protected override void OnReset()
    {
        cascade.Reset();
        dcBlock.Jump(DcBlockSettings, IsOn(DcBlock), Format.SampleRate, GlideSteps);
        delay.Jump(GetParameter(Delay));
        matrix.Jump(IsOn(InvertLeft), IsOn(InvertRight), IsOn(Swap));
        gain.Jump(Decibels.ToAmplitude(Value(Gain)));
        isFading = false;
    }

    /// <inheritdoc/>
    protected override void OnParametersMoved()
    {
        gain.MoveTo(Decibels.ToAmplitude(Value(Gain)), ControlInterval);
        matrix.MoveTo(IsOn(InvertLeft), IsOn(InvertRight), IsOn(Swap), FadeFrames);
    }

    /// <inheritdoc/>
    protected override void OnControlStep()
    {
        // The delay goes straight to where it was set and not along the glide, which would bend the pitch.
        delay.MoveTo(GetParameter(Delay), FadeFrames);
        if (dcBlock.Step(DcBlockSettings, IsOn(DcBlock), Format.SampleRate, GlideSteps))
        {
            cascade.StartGlide(ControlInterval);
        }

        isFading = dcBlock.IsFading || delay.IsFading;
    }

    /// <inheritdoc/>
    protected override void ProcessSegment(in StereoBlock segment)
    {
        delay.Process(segment.Left, segment.Right);
        cascade.Process(segment.Left, segment.Right);
        matrix.Process(segment.Left, segment.Right);
        gain.Multiply(segment.Left, segment.Right);
    }

    /// <inheritdoc/>
    protected override void FlushTinyState() => cascade.FlushTinyState();

    private static FilterSettings DcBlockSettings => new(FilterShape.HighPass, DcBlockHz, 0, 1, Order: 1);
}
