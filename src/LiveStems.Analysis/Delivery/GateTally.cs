using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Delivery;

/// <summary>What the gate counts and measures of a file while it is read back, beside what should be in it.</summary>
internal sealed class GateTally(int sampleRate, int bits)
{
    // Below this a file counts as silent: −90 dBFS, under the last bit of 16.
    private const float Silence = 3.2e-5f;

    private const int FewestClipped = 3;

    private readonly ProgrammeMeter meter = new(sampleRate);
    private readonly PrecisePeakMeter peaks = new();
    private readonly double steps = Math.ScaleB(1, bits - 1);
    private double sumLeft;
    private double sumRight;
    private long frames;
    private long lastSound = -1;
    private long oddSamples;
    private int atFullScaleLeft;
    private int atFullScaleRight;
    private LoudnessReport? loudness;

    /// <summary>Largest difference between a sample and what it should be.</summary>
    public float LargestError { get; private set; }

    /// <summary>The first frame of the first run of three samples or more at full scale in one channel; null for none.</summary>
    public long? FirstClippedFrame { get; private set; }

    /// <summary>Frames before the first sound.</summary>
    public long HeadFrames { get; private set; }

    /// <summary>Frames behind the last sound.</summary>
    public long TailFrames => frames - 1 - lastSound;

    /// <summary>True when no sound was met.</summary>
    public bool IsSilent => lastSound < 0;

    /// <summary>Loudness and peaks of the whole.</summary>
    public LoudnessReport Loudness => loudness ??= meter.Finish();

    /// <summary>True peak by the sixteenfold method.</summary>
    public double TruePeakDbtp
    {
        get
        {
            peaks.Finish();
            return peaks.TruePeakDbtp;
        }
    }

    /// <summary>Mean of the channel that is farther from zero.</summary>
    public double DcDbfs => Decibels.FromAmplitude(Math.Max(Math.Abs(sumLeft), Math.Abs(sumRight)) / Math.Max(1, frames));

    /// <summary>True when sound is there but the last bit never moves.</summary>
    public bool LacksDither => bits <= 24 && !IsSilent && oddSamples == 0;

    /// <summary>Adds frames; the reference holds as many or more.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right, float[] referenceLeft, float[] referenceRight)
    {
        meter.Add(left, right);
        peaks.Add(left, right);
        LargestError = LargestDifference(left, referenceLeft, LargestError);
        LargestError = LargestDifference(right, referenceRight, LargestError);
        sumLeft += Products.Sum(left);
        sumRight += Products.Sum(right);
        LookForSound(left, right);
        if (bits <= 24 && FirstClippedFrame is null)
        {
            atFullScaleLeft = CountFullScale(left, atFullScaleLeft);
            atFullScaleRight = CountFullScale(right, atFullScaleRight);
        }

        for (int i = 0; bits <= 24 && i < left.Length; i += 64)
        {
            oddSamples += (long)(left[i] * steps) & 1;
        }

        frames += left.Length;
    }

    // Sound that was cut at the end of its range stays there for several samples; a single one may have been meant.
    private int CountFullScale(ReadOnlySpan<float> samples, int run)
    {
        float largest = (float)((steps - 1) / steps);
        if (run == 0 && Magnitude.Largest(samples) < largest)
        {
            return 0;
        }

        for (int i = 0; i < samples.Length; i++)
        {
            run = Math.Abs(samples[i]) >= largest ? run + 1 : 0;
            if (run == FewestClipped)
            {
                FirstClippedFrame ??= frames + i + 1 - FewestClipped;
            }
        }

        return run;
    }

    private void LookForSound(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        for (int i = 0; lastSound < 0 && i < left.Length; i++)
        {
            if (IsSound(left[i], right[i]))
            {
                HeadFrames = lastSound = frames + i;
            }
        }

        for (int i = left.Length - 1; i >= 0; i--)
        {
            if (IsSound(left[i], right[i]))
            {
                lastSound = frames + i;
                return;
            }
        }
    }

    private static bool IsSound(float left, float right) => Math.Abs(left) > Silence || Math.Abs(right) > Silence;

    private static float LargestDifference(ReadOnlySpan<float> samples, ReadOnlySpan<float> reference, float largest)
    {
        ref float sample = ref MemoryMarshal.GetReference(samples);
        ref float meant = ref MemoryMarshal.GetReference(reference[..samples.Length]);
        Vector256<float> lanes = Vector256.Create(largest);
        int n = 0;
        for (; n <= samples.Length - Vector256<float>.Count; n += Vector256<float>.Count)
        {
            Vector256<float> apart = Vector256.Abs(Vector256.LoadUnsafe(ref sample, (nuint)n) - Vector256.LoadUnsafe(ref meant, (nuint)n));
            lanes = Vector256.Max(apart, lanes);
        }

        for (int lane = 0; lane < Vector256<float>.Count; lane++)
        {
            largest = Math.Max(largest, lanes[lane]);
        }

        for (; n < samples.Length; n++)
        {
            largest = Math.Max(largest, Math.Abs(samples[n] - reference[n]));
        }

        return largest;
    }
}
