using System.Numerics;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// Takes stereo sound apart into overlapping spectra, lets an editor change them, and puts it together again: without
/// changes the sound comes out as it went in, <see cref="LatencyFrames"/> later, but for rounding (below −125 dB).
/// </summary>
/// <remarks>
/// <para>
/// Weighted overlap-add with a Hann window before and after: J. B. Allen and L. R. Rabiner, Proceedings of the IEEE 65
/// (1977); R. E. Crochiere, IEEE Trans. ASSP 28 (1980). The squares of Hann windows at size/overlap frames from each
/// other add up to 3/8 of the overlap, for an overlap of 3 or more.
/// </para>
/// <para>
/// Frames end at multiples of <see cref="HopFrames"/> since reset, so the output does not depend on block sizes. All
/// memory is taken by the constructor.
/// </para>
/// </remarks>
public sealed class ShortTimeTransform
{
    private readonly ISpectrumEditor editor;
    private readonly RealFourierTransform transform;
    private readonly ShortTimeChannel left;
    private readonly ShortTimeChannel right;
    private int filled;

    /// <summary>
    /// Prepares frames of <paramref name="size"/> (a power of two from 64 to 65,536), <paramref name="overlap"/> (4, 8 or
    /// 16) of them over every sample.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The size or the overlap is none of these.</exception>
    public ShortTimeTransform(int size, int overlap, ISpectrumEditor editor)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(size, 64);
        if (!BitOperations.IsPow2(overlap) || overlap < 4 || overlap > 16)
        {
            throw new ArgumentOutOfRangeException(nameof(overlap), overlap, "4, 8 or 16 is needed");
        }

        this.editor = editor;
        transform = new RealFourierTransform(size);
        HopFrames = size / overlap;
        left = new ShortTimeChannel(transform, HopFrames);
        right = new ShortTimeChannel(transform, HopFrames);
    }

    /// <summary>Frames of a spectrum's window.</summary>
    public int Size => transform.Size;

    /// <summary>Bins of a spectrum; bin k lies at k/<see cref="Size"/> of the sample rate.</summary>
    public int Bins => transform.Bins;

    /// <summary>Frames from one spectrum to the next.</summary>
    public int HopFrames { get; }

    /// <summary>Frames between input and output: <see cref="Size"/>.</summary>
    public int LatencyFrames => Size;

    /// <summary>State as if from silence.</summary>
    public void Reset()
    {
        filled = 0;
        left.Reset();
        right.Reset();
    }

    /// <summary>Processes both channels, of equal length, in place.</summary>
    public void Process(Span<float> leftBlock, Span<float> rightBlock)
    {
        int done = 0;
        while (done < leftBlock.Length)
        {
            int frames = Math.Min(HopFrames - filled, leftBlock.Length - done);
            left.Exchange(leftBlock.Slice(done, frames), filled);
            right.Exchange(rightBlock.Slice(done, frames), filled);
            done += frames;
            filled += frames;
            if (filled == HopFrames)
            {
                filled = 0;
                left.Analyse();
                right.Analyse();
                editor.Edit(new StereoSpectrum(left.Real, left.Imaginary, right.Real, right.Imaginary));
                left.Synthesise();
                right.Synthesise();
            }
        }
    }
}
