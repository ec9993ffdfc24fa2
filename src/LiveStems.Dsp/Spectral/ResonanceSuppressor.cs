using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>
/// Takes down partials that stand above the sound's own smooth spectrum, while they do: an editor for
/// <see cref="ShortTimeTransform"/>.
/// </summary>
/// <remarks>
/// Every frame: power of both channels → link → <see cref="SpectralTrend"/> → <see cref="ResonanceCurve"/> → gain of each bin.
/// Where nothing stands out the gain is exactly 1. At a link of 1 both channels share one curve, from their mean power.
/// </remarks>
public sealed class ResonanceSuppressor : ISpectrumEditor
{
    private const float OctavesPerDb = 0.166096405f;
    private const double EdgeOctaves = 0.5;

    // The level of a sine that counts as silence, −130 dBFS.
    private const double SilenceAmplitude = 3.2e-7;

    private readonly int bins;
    private readonly double framesPerSecond;
    private readonly float floor;
    private readonly double[] octaves;
    private readonly float[] depths;
    private readonly float[] leftPower;
    private readonly float[] rightPower;
    private readonly float[] trend;
    private readonly SpectralTrend smoother;
    private readonly ResonanceCurve left;
    private readonly ResonanceCurve right;
    private readonly PublishedCurve published;
    private ResonanceSettings settings;
    private float attackPole;
    private float releasePole;
    private bool depthsAreStale = true;

    /// <summary>Takes all memory.</summary>
    /// <param name="size">Frames of the transform's window.</param>
    /// <param name="hopFrames">Frames from one spectrum to the next.</param>
    /// <param name="sampleRate">Frames a second.</param>
    public ResonanceSuppressor(int size, int hopFrames, int sampleRate)
    {
        bins = size / 2 + 1;
        int padded = (bins + 7) & -8;
        framesPerSecond = (double)sampleRate / hopFrames;
        floor = (float)Math.Pow(SilenceAmplitude * size / 4, 2);
        octaves = Unmoved.Array<double>(bins);
        depths = Unmoved.Array<float>(padded);
        leftPower = Unmoved.Array<float>(padded);
        rightPower = Unmoved.Array<float>(padded);
        trend = Unmoved.Array<float>(padded);
        smoother = new SpectralTrend(bins, (double)sampleRate / size);
        left = new ResonanceCurve(bins);
        right = new ResonanceCurve(bins);
        published = new PublishedCurve(bins);
        for (int bin = 1; bin < bins; bin++)
        {
            octaves[bin] = Math.Log2((double)bin * sampleRate / size);
        }
    }

    /// <summary>The deepest cut in any bin since <see cref="RestartMeter"/>, or of the last frame if there was none since; dB, 0 or above.</summary>
    public float DeepestCutDb { get; private set; }

    private bool MeterIsOld { get; set; } = true;

    /// <summary>
    /// The newest cut of each bin in dB, 0 or below, the deeper of both channels; for one reading thread, at any time. Stands still
    /// until the next call.
    /// </summary>
    public ReadOnlySpan<float> LatestReductionDb() => published.Latest();

    /// <summary>Sets how peaks are found and taken down, from the next frame on.</summary>
    public void Set(in ResonanceSettings to)
    {
        depthsAreStale |= to.LowHz != settings.LowHz || to.HighHz != settings.HighHz || to.Depth != settings.Depth;
        settings = to;
        attackPole = (float)TimeConstant.Pole(to.AttackMs, framesPerSecond);
        releasePole = (float)TimeConstant.Pole(to.ReleaseMs, framesPerSecond);
    }

    /// <summary>The next frame starts <see cref="DeepestCutDb"/> anew.</summary>
    public void RestartMeter() => MeterIsOld = true;

    /// <summary>State as if from silence.</summary>
    public void Reset()
    {
        left.Reset();
        right.Reset();
        DeepestCutDb = 0;
        MeterIsOld = true;
    }

    /// <inheritdoc/>
    public void Edit(in StereoSpectrum spectrum)
    {
        if (depthsAreStale)
        {
            ComputeDepths();
        }

        Power(spectrum.LeftReal, spectrum.LeftImaginary, leftPower);
        Power(spectrum.RightReal, spectrum.RightImaginary, rightPower);
        if (settings.Link >= 1)
        {
            Mean();
            left.Join(right);
            Advance(left, leftPower);
            right.CopyFrom(left);
        }
        else
        {
            Blend((float)(settings.Link / 2));
            Advance(left, leftPower);
            Advance(right, rightPower);
        }

        Multiply(spectrum.LeftReal, spectrum.LeftImaginary, left.CutDb);
        Multiply(spectrum.RightReal, spectrum.RightImaginary, right.CutDb);
        Report();
    }

    private void Advance(ResonanceCurve curve, float[] power)
    {
        smoother.Compute(power.AsSpan(0, bins), trend.AsSpan(0, bins));
        curve.Advance(power, trend, depths, floor, settings, attackPole, releasePole);
    }

    private void ComputeDepths()
    {
        double low = Math.Log2(settings.LowHz);
        double high = Math.Log2(settings.HighHz);
        for (int bin = 1; bin < bins; bin++)
        {
            double inside = Math.Min(octaves[bin] - low, high - octaves[bin]);
            double u = Math.Clamp(0.5 + inside / EdgeOctaves, 0, 1);
            depths[bin] = (float)(settings.Depth * u * u * (3 - 2 * u));
        }

        depthsAreStale = false;
    }

    // Power that is not a number, or beyond all sound, counts as silence, so that it cannot stay in the averages.
    private static void Power(ReadOnlySpan<float> real, ReadOnlySpan<float> imaginary, Span<float> power)
    {
        for (int bin = 0; bin < real.Length; bin++)
        {
            float value = MathF.FusedMultiplyAdd(real[bin], real[bin], imaginary[bin] * imaginary[bin]);
            power[bin] = value <= 1e30f ? value : 0;
        }
    }

    private void Mean()
    {
        for (int bin = 0; bin < bins; bin++)
        {
            leftPower[bin] = 0.5f * (leftPower[bin] + rightPower[bin]);
        }
    }

    private void Blend(float share)
    {
        for (int bin = 0; bin < bins; bin++)
        {
            (float l, float r) = (leftPower[bin], rightPower[bin]);
            leftPower[bin] = MathF.FusedMultiplyAdd(share, r - l, l);
            rightPower[bin] = MathF.FusedMultiplyAdd(share, l - r, r);
        }
    }

    private static void Multiply(Span<float> real, Span<float> imaginary, ReadOnlySpan<float> cutDb)
    {
        ref float re = ref MemoryMarshal.GetReference(real);
        ref float im = ref MemoryMarshal.GetReference(imaginary);
        ref float cut = ref MemoryMarshal.GetReference(cutDb);
        int whole = real.Length & -Vector256<float>.Count;
        for (nuint k = 0; k < (nuint)whole; k += (nuint)Vector256<float>.Count)
        {
            Vector256<float> gain = VectorExp2.Of(Vector256.LoadUnsafe(ref cut, k) * -OctavesPerDb);
            (Vector256.LoadUnsafe(ref re, k) * gain).StoreUnsafe(ref re, k);
            (Vector256.LoadUnsafe(ref im, k) * gain).StoreUnsafe(ref im, k);
        }

        Vector256<float> last = VectorExp2.Of(Vector256.LoadUnsafe(ref cut, (nuint)whole) * -OctavesPerDb);
        for (int k = whole; k < real.Length; k++)
        {
            real[k] *= last[k - whole];
            imaginary[k] *= last[k - whole];
        }
    }

    private void Report()
    {
        Span<float> reduction = published.Next;
        float deepest = 0;
        for (int bin = 0; bin < bins; bin++)
        {
            float cut = Math.Max(left.CutDb[bin], right.CutDb[bin]);
            deepest = Math.Max(deepest, cut);
            reduction[bin] = -cut;
        }

        published.Publish();
        DeepestCutDb = MeterIsOld ? deepest : Math.Max(DeepestCutDb, deepest);
        MeterIsOld = false;
    }
}
