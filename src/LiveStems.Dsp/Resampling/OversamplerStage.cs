using LiveStems.Dsp.Simd;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Dsp.Resampling;

/// <summary>
/// One doubling of the sample rate of one channel and the way back, by a linear-phase half-band filter in two phases:
/// one phase is the sound itself, the other lies half-way between its samples.
/// </summary>
/// <remarks>
/// There and back take 2K − 1 samples of the lower rate each half, together 4K − 2 samples of the higher one. Behind a mean
/// of two neighbours (<c>meanLength</c> above 0) the way back is <see cref="OversamplerTaps.AfterMeanOfTwo"/>
/// with an odd M, so that mean and way back delay by M and all by 2K − 1 + M samples of the higher rate: an even number.
/// </remarks>
internal sealed class OversamplerStage
{
    private readonly int halfLength;
    private readonly int meanLength;
    private readonly float[] halfWay;
    private readonly float[] evenTaps;
    private readonly float[] oddTaps;
    private readonly float[] input;
    private readonly float[] between;
    private readonly float[] even;
    private readonly float[] odd;

    /// <param name="halfLength">Samples on either side of the half-way filter, K.</param>
    /// <param name="attenuationDb">Stop-band attenuation that shapes the windows.</param>
    /// <param name="meanLength">M when what runs at the higher rate ends in a mean of two neighbours, an odd number; otherwise 0.</param>
    /// <param name="passShare">What that way back passes, as a share of half the higher rate.</param>
    /// <param name="stopShare">From where it stops, in the same measure.</param>
    /// <param name="maximumFrames">Frames of the lower rate handed over at once.</param>
    public OversamplerStage(int halfLength, double attenuationDb, int meanLength, double passShare, double stopShare, int maximumFrames)
    {
        double beta = KaiserWindow.Beta(attenuationDb);
        this.halfLength = halfLength;
        this.meanLength = meanLength;
        halfWay = OversamplerTaps.HalfWay(halfLength, beta);
        evenTaps = halfWay;
        oddTaps = [];
        if (meanLength > 0)
        {
            float[] taps = OversamplerTaps.AfterMeanOfTwo(meanLength, passShare, stopShare);

            // Oldest first, as the convolution runs; the filter is symmetric.
            evenTaps = [.. taps.Where((_, k) => k % 2 == 1)];
            oddTaps = [.. taps.Where((_, k) => k % 2 == 0)];
        }

        int length = maximumFrames + 2 * FirKernel.Padding;
        input = Unmoved.Array<float>(2 * halfLength - 1 + length);
        between = Unmoved.Array<float>(length);
        even = Unmoved.Array<float>(evenTaps.Length - 1 + length);
        odd = Unmoved.Array<float>(OddHistory + length);
    }

    /// <summary>Samples of the higher rate from input to output, the mean's half included.</summary>
    public int DelayAtHigherRate => 2 * halfLength - 1 + (meanLength > 0 ? meanLength : 2 * halfLength - 1);

    private int OddHistory => meanLength > 0 ? meanLength : halfLength;

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        Array.Clear(input);
        Array.Clear(even);
        Array.Clear(odd);
    }

    /// <summary>From frames to twice as many.</summary>
    public void Up(ReadOnlySpan<float> lower, Span<float> higher)
    {
        int history = 2 * halfLength - 1;
        lower.CopyTo(input.AsSpan(history));
        FirKernel.Run(halfWay, input, between, lower.Length);
        ReadOnlySpan<float> centre = input.AsSpan(halfLength, lower.Length);
        for (int i = 0; i < centre.Length; i++)
        {
            higher[2 * i] = between[i];
            higher[2 * i + 1] = centre[i];
        }

        input.AsSpan(lower.Length, history).CopyTo(input);
    }

    /// <summary>From frames to half as many.</summary>
    public void Down(ReadOnlySpan<float> higher, Span<float> lower)
    {
        int frames = lower.Length;
        int evenHistory = evenTaps.Length - 1;
        Span<float> evenFrames = even.AsSpan(evenHistory, frames);
        Span<float> oddFrames = odd.AsSpan(OddHistory, frames);
        for (int i = 0; i < frames; i++)
        {
            evenFrames[i] = higher[2 * i];
            oddFrames[i] = higher[2 * i + 1];
        }

        FirKernel.Run(evenTaps, even, between, frames);
        if (meanLength == 0)
        {
            for (int i = 0; i < frames; i++)
            {
                lower[i] = 0.5f * (between[i] + odd[i]);
            }
        }
        else
        {
            between.AsSpan(0, frames).CopyTo(lower);
            FirKernel.Run(oddTaps, odd, between, frames);
            for (int i = 0; i < frames; i++)
            {
                lower[i] += between[i];
            }
        }

        even.AsSpan(frames, evenHistory).CopyTo(even);
        odd.AsSpan(frames, OddHistory).CopyTo(odd);
    }
}
