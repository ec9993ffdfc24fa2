using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// Raises the sample rate of one channel by 2, 4, 8 or 16 for work that makes new frequencies, and brings it back,
/// linear in phase and with a delay of whole frames.
/// </summary>
/// <remarks>
/// <para>
/// A chain of half-band doublings. The first passes 0.4535 of the rate (20 kHz at 44.1 kHz) and stops from 0.5465 on;
/// what folds between them stays above 0.4535. The later ones have ever wider transitions and need fewer taps. All stop
/// by 120 dB (Kaiser's formula for the lengths). Where a chain would end on half a frame of the rate below, one sample of
/// delay is put in between, so that <see cref="LatencyFrames"/> is exact.
/// </para>
/// <para>Up and down within one call each; the output does not depend on how the sound is cut into calls.</para>
/// </remarks>
public sealed class Oversampler
{
    private const double AttenuationDb = 120;
    private const double FirstPassShare = 0.4535;
    private const double FirstStopShare = 1 - FirstPassShare;

    // From Kaiser's formula for transitions of 0.093, 0.453, 0.727 and 0.863 of the lower rate about a quarter of the higher.
    private static readonly int[] HalfLengths = [43, 9, 6, 5];

    // Odd numbers, with which the least-squares ways back behind a mean keep within 1e-6 of what they should do.
    private static readonly int[] MeanLengths = [97, 19, 13, 11];

    private readonly OversamplerStage[] stages;
    private readonly bool[] isPadded;
    private readonly float[] padding;
    private readonly float[][] sounds;
    private int frames;

    /// <summary>A chain at rest; allocates everything.</summary>
    /// <param name="doublings">1 to 4: a factor of 2 to 16.</param>
    /// <param name="followsMean">
    /// True when what runs at the high rate replaces its samples by the mean over the last step, as first-order
    /// antiderivative anti-aliasing does: its delay of half a sample and its droop are then made good.
    /// </param>
    /// <param name="maximumFrames">Frames handed over at once.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such number of doublings.</exception>
    public Oversampler(int doublings, bool followsMean, int maximumFrames)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(doublings, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(doublings, HalfLengths.Length);
        stages = new OversamplerStage[doublings];
        isPadded = new bool[doublings];
        padding = new float[doublings];
        sounds = new float[doublings][];
        int delay = 0;
        for (int i = doublings - 1; i >= 0; i--)
        {
            int lowerFrames = maximumFrames << i;
            int meanLength = followsMean && i == doublings - 1 ? MeanLengths[i] : 0;
            double passShare = i == 0 ? FirstPassShare : FirstStopShare / (1 << i);
            stages[i] = new OversamplerStage(HalfLengths[i], AttenuationDb, meanLength, passShare, 1 - passShare, lowerFrames);
            sounds[i] = Unmoved.Array<float>(2 * lowerFrames);
            isPadded[i] = delay % 2 == 1;
            delay = (stages[i].DelayAtHigherRate + delay + (isPadded[i] ? 1 : 0)) / 2;
        }

        LatencyFrames = delay;
    }

    /// <summary>Samples of the high rate in a frame.</summary>
    public int Factor => 1 << stages.Length;

    /// <summary>Frames from input to output.</summary>
    public int LatencyFrames { get; }

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        foreach (OversamplerStage stage in stages)
        {
            stage.Reset();
        }

        Array.Clear(padding);
    }

    /// <summary>
    /// Takes frames in and returns <see cref="Factor"/> times as many, to be changed in place before <see cref="Down"/>.
    /// </summary>
    public Span<float> Up(ReadOnlySpan<float> sound)
    {
        frames = sound.Length;
        ReadOnlySpan<float> lower = sound;
        for (int i = 0; i < stages.Length; i++)
        {
            Span<float> higher = sounds[i].AsSpan(0, 2 * lower.Length);
            stages[i].Up(lower, higher);
            if (isPadded[i])
            {
                DelayByOne(higher, ref padding[i]);
            }

            lower = higher;
        }

        return sounds[^1].AsSpan(0, frames << stages.Length);
    }

    /// <summary>Brings what <see cref="Up"/> returned back to frames.</summary>
    public void Down(Span<float> sound)
    {
        for (int i = stages.Length - 1; i > 0; i--)
        {
            stages[i].Down(sounds[i].AsSpan(0, frames << (i + 1)), sounds[i - 1].AsSpan(0, frames << i));
        }

        stages[0].Down(sounds[0].AsSpan(0, 2 * frames), sound[..frames]);
    }

    private static void DelayByOne(Span<float> sound, ref float kept)
    {
        float last = sound[^1];
        sound[..^1].CopyTo(sound[1..]);
        sound[0] = kept;
        kept = last;
    }
}
