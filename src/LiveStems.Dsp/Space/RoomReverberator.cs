using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Space;

/// <summary>
/// A short room around stereo sound: low cut → pre-delay → early reflections, and all-pass diffusion with a feedback delay network, for
/// the middle and for the side.
/// </summary>
/// <remarks>
/// Middle and side each have a network of their own (<see cref="FeedbackDelayNetwork"/>), all of whose lines differ; the spread feeds the
/// middle into the side's network too, so that a mono sound has a wide room. The mono sum of the output is the middle's room
/// alone: it has no combs, and loses nothing of the middle's level. Without spread the room treats both sides as exchangeable, bit for
/// bit; with it, it answers both equally loud.
/// </remarks>
public sealed class RoomReverberator
{
    /// <summary>The longest stretch that may be processed at once, frames.</summary>
    public const int ChunkFrames = 256;

    /// <summary>The longest pre-delay, ms.</summary>
    public const double LongestPreDelayMs = 100;

    private const double HighestCorner = 0.45;

    private readonly double sampleRate;
    private readonly FeedbackDelayNetwork lateMiddle;
    private readonly FeedbackDelayNetwork lateSide;
    private readonly AllpassDiffuser diffuserMiddle;
    private readonly AllpassDiffuser diffuserSide;
    private readonly TappedDelay straight;
    private readonly TappedDelay crossed;
    private readonly SoundHistory middlePast;
    private readonly SoundHistory sidePast;
    private readonly StereoDelay preDelay;
    private readonly KeyHighPass lowCut = new();
    private readonly float[] left = new float[ChunkFrames];
    private readonly float[] right = new float[ChunkFrames];
    private readonly float[] middle = new float[ChunkFrames];
    private readonly float[] side = new float[ChunkFrames];
    private readonly float[] earlyMiddle = new float[ChunkFrames];
    private readonly float[] earlySide = new float[ChunkFrames];
    private readonly float[] earlyCrossed = new float[ChunkFrames];
    private readonly float[] answerMiddle = new float[ChunkFrames];
    private readonly float[] answerSide = new float[ChunkFrames];
    private RoomGains gains;

    /// <summary>Takes all memory. <see cref="Jump"/> must follow.</summary>
    /// <param name="edgeMetres">Edge of the cube that the room is, m, above 0.</param>
    /// <param name="sampleRate">Frames a second.</param>
    public RoomReverberator(double edgeMetres, double sampleRate)
    {
        this.sampleRate = sampleRate;
        ReadOnlySpan<int> lines = RoomGeometry.LineFrames(edgeMetres, sampleRate);
        lateMiddle = new FeedbackDelayNetwork(lines[..FeedbackDelayNetwork.Lines], FeedbackDelayNetwork.MiddleSigns);
        lateSide = new FeedbackDelayNetwork(lines[FeedbackDelayNetwork.Lines..], FeedbackDelayNetwork.SideSigns);
        int[] diffusers = new int[6];
        PrimeDelays.Fill(RoomGeometry.DiffuserFrames(edgeMetres, sampleRate), diffusers);
        diffuserMiddle = new AllpassDiffuser(diffusers.AsSpan(0, 3));
        diffuserSide = new AllpassDiffuser(diffusers.AsSpan(3));
        straight = new TappedDelay(RoomGeometry.StraightTapFrames(edgeMetres, sampleRate), RoomGeometry.StraightNegative);
        crossed = new TappedDelay(RoomGeometry.CrossedTapFrames(edgeMetres, sampleRate), RoomGeometry.CrossedNegative);
        int past = Math.Max(straight.LongestFrames, crossed.LongestFrames);
        middlePast = new SoundHistory(past, ChunkFrames);
        sidePast = new SoundHistory(past, ChunkFrames);
        preDelay = new StereoDelay((int)Math.Ceiling(LongestPreDelayMs * sampleRate / 1000), isFractional: false);
    }

    /// <summary>True while one pre-delay cross-fades to another.</summary>
    public bool IsFading => preDelay.IsFading;

    /// <summary>Lengths of the late part's lines in frames: eight of the middle's network, eight of the side's.</summary>
    public IReadOnlyList<int> LineFrames => [.. lateMiddle.Frames, .. lateSide.Frames];

    /// <summary>State as if from silence, with settings at once.</summary>
    public void Jump(in RoomSettings settings, double preDelayMs)
    {
        lateMiddle.Reset();
        lateSide.Reset();
        diffuserMiddle.Reset();
        diffuserSide.Reset();
        middlePast.Reset();
        sidePast.Reset();
        lowCut.Reset();
        preDelay.Jump(preDelayMs * sampleRate / 1000);
        lowCut.SetCorner(Math.Min(settings.LowCutHz, HighestCorner * sampleRate), sampleRate);
        lateMiddle.Jump(Absorption(lateMiddle, settings));
        lateSide.Jump(Absorption(lateSide, settings));
        gains = RoomGains.Still(settings);
    }

    /// <summary>Goes to other settings over the next interval; called once more when they stand still.</summary>
    public void Move(in RoomSettings settings, int intervalFrames)
    {
        lowCut.SetCorner(Math.Min(settings.LowCutHz, HighestCorner * sampleRate), sampleRate);
        lateMiddle.Move(Absorption(lateMiddle, settings));
        lateSide.Move(Absorption(lateSide, settings));
        gains = gains.Towards(settings, intervalFrames);
    }

    /// <summary>Cross-fades to another pre-delay unless a cross-fade is under way; to be called again afterwards.</summary>
    public void MovePreDelay(double milliseconds, int fadeFrames) => preDelay.MoveTo(milliseconds * sampleRate / 1000, fadeFrames);

    /// <summary>Sets state below 1e-20 to zero.</summary>
    public void FlushTinyState() => lowCut.FlushTinyState();

    /// <summary>
    /// Processes up to <see cref="ChunkFrames"/> frames in place. Samples that are not finite, or beyond ±1e6, count as silence.
    /// </summary>
    /// <param name="leftSound">Left.</param>
    /// <param name="rightSound">Right, as long.</param>
    /// <param name="position">Place of the first frame in the interval of a move.</param>
    /// <param name="intervalFrames">Frames of that interval; while settings move, no chunk crosses its end.</param>
    public void Process(Span<float> leftSound, Span<float> rightSound, int position, int intervalFrames)
    {
        int frames = leftSound.Length;
        int padded = (frames + 7) & -8;
        Keep(leftSound, left);
        Keep(rightSound, right);
        lowCut.Process(leftSound, rightSound, middle.AsSpan(0, frames), side.AsSpan(0, frames));
        RoomKernels.ToMidSide(middle.AsSpan(0, padded), side.AsSpan(0, padded));
        preDelay.Process(middle.AsSpan(0, frames), side.AsSpan(0, frames));
        Reflect(frames);
        RoomKernels.FeedSide(middle.AsSpan(0, padded), side.AsSpan(0, padded), gains, position);
        diffuserMiddle.Process(middle.AsSpan(0, frames));
        diffuserSide.Process(side.AsSpan(0, frames));
        lateMiddle.Process(middle.AsSpan(0, frames), answerMiddle.AsSpan(0, frames), position, intervalFrames);
        lateSide.Process(side.AsSpan(0, frames), answerSide.AsSpan(0, frames), position, intervalFrames);
        RoomKernels.AddEarly(
            answerMiddle.AsSpan(0, padded), answerSide.AsSpan(0, padded), earlyMiddle, earlySide, earlyCrossed, gains, position);
        RoomKernels.Mix(left.AsSpan(0, padded), right.AsSpan(0, padded), answerMiddle, answerSide, gains, position);
        Deliver(left, leftSound);
        Deliver(right, rightSound);
    }

    /// <summary>Reverberation time that the late part is built for at a frequency, s.</summary>
    /// <remarks>From the losses of the shelf in <see cref="LineAbsorption"/>, exact for lines of vanishing loss.</remarks>
    public static double DecaySeconds(in RoomSettings settings, double frequencyHz)
    {
        double square = Math.Pow(frequencyHz / settings.DampingHz, 2);
        double rate = 1 / settings.LowSeconds + (1 / settings.HighSeconds - 1 / settings.LowSeconds) * square / (1 + square);
        return 1 / rate;
    }

    private LineAbsorption Absorption(FeedbackDelayNetwork network, in RoomSettings settings) => LineAbsorption.For(
        network.Frames, settings.LowSeconds, settings.HighSeconds, Math.Min(settings.DampingHz, HighestCorner * sampleRate), sampleRate);

    private void Reflect(int frames)
    {
        middlePast.Write(middle.AsSpan(0, frames));
        sidePast.Write(side.AsSpan(0, frames));
        straight.Process(middlePast.Samples, middlePast.Newest, earlyMiddle.AsSpan(0, frames));
        straight.Process(sidePast.Samples, sidePast.Newest, earlySide.AsSpan(0, frames));
        crossed.Process(middlePast.Samples, middlePast.Newest, earlyCrossed.AsSpan(0, frames));
    }

    private static void Keep(ReadOnlySpan<float> sound, Span<float> kept)
    {
        for (int n = 0; n < sound.Length; n++)
        {
            kept[n] = Math.Abs(sound[n]) <= 1e6f ? sound[n] : 0;
        }
    }

    private static void Deliver(ReadOnlySpan<float> result, Span<float> sound)
    {
        for (int n = 0; n < sound.Length; n++)
        {
            sound[n] = Math.Abs(result[n]) < 1e-20f ? 0 : result[n];
        }
    }
}
