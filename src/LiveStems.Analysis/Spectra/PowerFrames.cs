using System.Numerics;
using LiveStems.Dsp.Spectral;

namespace LiveStems.Analysis.Spectra;

/// <summary>
/// Cuts sound that comes in blocks of any length into frames that overlap by three quarters, and hands on the power of
/// each frame's bins.
/// </summary>
/// <remarks>
/// Welch's method (P. D. Welch, IEEE Trans. Audio Electroacoustics 15, 1967) with a Hann window: its squares, a quarter of
/// the size apart, add up to 3/2 everywhere, so with the frames that reach beyond both ends every sample counts alike:
/// the sum of a bin over all frames, times <see cref="HopFrames"/> over the number of samples, is its share of the mean
/// square of the whole. All memory comes with construction; one thread at a time.
/// </remarks>
public sealed class PowerFrames
{
    private const int Overlap = 4;

    private readonly SpectrumChannel channel;
    private readonly IPowerFrameSink sink;
    private readonly AnalysisWindow window;
    private readonly RealFourierTransform transform;
    private readonly float[] first;
    private readonly float[] second;
    private readonly float[] windowed;
    private readonly float[] real;
    private readonly float[] imaginary;
    private readonly float[] power;
    private readonly float scale;
    private int filled;
    private long frames;

    /// <summary>Prepares frames, as if from silence.</summary>
    /// <param name="size">Samples of a frame, a power of two from 64 to 65,536.</param>
    /// <param name="channel">What of the stereo sound is looked at.</param>
    /// <param name="sink">Takes the frames.</param>
    /// <exception cref="ArgumentOutOfRangeException">The size is no such number.</exception>
    public PowerFrames(int size, SpectrumChannel channel, IPowerFrameSink sink)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(size, 64);
        this.channel = channel;
        this.sink = sink;
        transform = new RealFourierTransform(size);
        window = AnalysisWindow.Hann(size);
        first = new float[size];
        second = channel == SpectrumChannel.Both ? new float[size] : [];
        windowed = new float[size];
        real = new float[transform.Bins];
        imaginary = new float[transform.Bins];
        power = new float[transform.Bins];
        scale = (float)(2 / ((double)size * size * window.PowerGain) / (channel == SpectrumChannel.Both ? 2 : 1));
        Reset();
    }

    /// <summary>Samples of a frame.</summary>
    public int Size => transform.Size;

    /// <summary>Bins of a frame; bin k lies at k / <see cref="Size"/> of the sample rate.</summary>
    public int Bins => transform.Bins;

    /// <summary>Samples from one frame to the next.</summary>
    public int HopFrames => Size / Overlap;

    /// <summary>Adds any number of frames of sound; both channels have one length.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        frames += left.Length;
        Push(left, right, isSound: true);
    }

    /// <summary>Lets silence follow until the last sample has left every frame. Only <see cref="Reset"/> may follow.</summary>
    public void Finish()
    {
        ReadOnlySpan<float> silence = stackalloc float[256];
        long left = frames == 0 ? 0 : (HopFrames - frames % HopFrames) % HopFrames + Size - HopFrames;
        while (left > 0)
        {
            int count = (int)Math.Min(left, silence.Length);
            Push(silence[..count], silence[..count], isSound: false);
            left -= count;
        }
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        Array.Clear(first);
        Array.Clear(second);
        filled = Size - HopFrames;
        frames = 0;
    }

    private void Push(ReadOnlySpan<float> left, ReadOnlySpan<float> right, bool isSound)
    {
        while (left.Length > 0)
        {
            int count = Math.Min(left.Length, Size - filled);
            Store(left[..count], right[..count]);
            filled += count;
            left = left[count..];
            right = right[count..];
            if (filled == Size)
            {
                // While sound comes in, a frame is whole once as many samples as it holds have been added.
                Emit(isWhole: isSound && frames - left.Length >= Size);
                first.AsSpan(HopFrames).CopyTo(first);
                if (channel == SpectrumChannel.Both)
                {
                    second.AsSpan(HopFrames).CopyTo(second);
                }

                filled = Size - HopFrames;
            }
        }
    }

    private void Store(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        Span<float> target = first.AsSpan(filled, left.Length);
        switch (channel)
        {
            case SpectrumChannel.Both:
                left.CopyTo(target);
                right.CopyTo(second.AsSpan(filled));
                break;
            case SpectrumChannel.Left:
                left.CopyTo(target);
                break;
            case SpectrumChannel.Right:
                right.CopyTo(target);
                break;
            default:
                float sign = channel == SpectrumChannel.Mid ? 0.5f : -0.5f;
                for (int n = 0; n < target.Length; n++)
                {
                    target[n] = 0.5f * left[n] + sign * right[n];
                }

                break;
        }
    }

    private void Emit(bool isWhole)
    {
        Array.Clear(power);
        AddPowerOf(first);
        if (channel == SpectrumChannel.Both)
        {
            AddPowerOf(second);
        }

        // Both ends stand for one line, every other bin for two.
        power[0] *= 0.5f;
        power[^1] *= 0.5f;
        sink.Take(power, isWhole);
    }

    private void AddPowerOf(float[] samples)
    {
        window.Apply(samples, windowed);
        transform.Forward(windowed, real, imaginary);
        Vector<float> factor = new(scale);
        int k = 0;
        for (; k <= power.Length - Vector<float>.Count; k += Vector<float>.Count)
        {
            Vector<float> re = new(real, k), im = new(imaginary, k);
            (new Vector<float>(power, k) + (re * re + im * im) * factor).CopyTo(power, k);
        }

        for (; k < power.Length; k++)
        {
            power[k] += (real[k] * real[k] + imaginary[k] * imaginary[k]) * scale;
        }
    }
}
