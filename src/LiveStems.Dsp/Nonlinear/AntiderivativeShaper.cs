using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Nonlinear;

/// <summary>
/// A curve without memory on one channel, with first-order antiderivative anti-aliasing: the mean of the curve along the
/// straight line from each sample to the next.
/// </summary>
/// <remarks>
/// <para>
/// J. Parker, V. Zavalishin, E. Le Bivic, "Reducing the aliasing of nonlinear waveshaping using continuous-time
/// convolution", DAFx-16, 2016; S. Bilbao, F. Esqueda, J. D. Parker, V. Välimäki, "Antiderivative antialiasing for
/// memoryless nonlinearities", IEEE Signal Processing Letters 24(7), 2017 (both from memory):
/// y[n] = (F(x[n]) − F(x[n−1])) / (x[n] − x[n−1]), and f((x[n] + x[n−1]) / 2) where the difference is too small to divide by.
/// </para>
/// <para>
/// In double. Below a difference of 1e-4 the midpoint is wrong by less than 1e-4² f″ / 24, −180 dB; above it the quotient
/// loses no more than 1e-12 to cancellation for every curve here up to |x| = 100. The mean delays by half a sample and
/// passes a tone of the frequency ω at cos(ω/2), which the oversampler around it makes good.
/// </para>
/// </remarks>
public abstract class AntiderivativeShaper
{
    private protected const double Loudest = 1000;
    private protected const double SmallestDifference = 1e-4;

    private protected AntiderivativeShaper()
    {
    }

    /// <summary>A shaper at rest.</summary>
    /// <param name="curve">Its curve.</param>
    /// <param name="maximumSamples">Samples handed over at once.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such curve.</exception>
    public static AntiderivativeShaper Create(ShapingCurve curve, int maximumSamples) => curve switch
    {
        ShapingCurve.Soft => new AntiderivativeShaper<SoftCurve>(maximumSamples),
        ShapingCurve.Asymmetric => new AntiderivativeShaper<AsymmetricCurve>(maximumSamples),
        ShapingCurve.Second => new AntiderivativeShaper<SecondHarmonicCurve>(maximumSamples),
        ShapingCurve.Third => new AntiderivativeShaper<ThirdHarmonicCurve>(maximumSamples),
        ShapingCurve.Fold => new AntiderivativeShaper<FoldCurve>(maximumSamples),
        _ => throw new ArgumentOutOfRangeException(nameof(curve), curve, "there is no such curve"),
    };

    /// <summary>Silence before.</summary>
    public abstract void Reset();

    /// <summary>Shapes samples in place; those beyond ±1000 count as ±1000. They must be numbers.</summary>
    public abstract void Process(Span<float> samples);
}

/// <summary>The shaper of one curve.</summary>
internal sealed class AntiderivativeShaper<TCurve> : AntiderivativeShaper
    where TCurve : struct, IShapingCurve
{
    private readonly double[] inputs;
    private readonly double[] integrals;

    /// <summary>A shaper at rest.</summary>
    public AntiderivativeShaper(int maximumSamples)
    {
        // One place for the sample before, and room for whole vectors.
        inputs = new double[maximumSamples + 1 + Vector256<double>.Count];
        integrals = new double[inputs.Length];
        Reset();
    }

    /// <inheritdoc/>
    public override void Reset()
    {
        Array.Clear(inputs);
        integrals[0] = TCurve.Integral(Vector256<double>.Zero).ToScalar();
    }

    /// <inheritdoc/>
    public override void Process(Span<float> samples)
    {
        for (int i = 0; i < samples.Length; i++)
        {
            inputs[i + 1] = Math.Clamp((double)samples[i], -Loudest, Loudest);
        }

        ref double x = ref MemoryMarshal.GetArrayDataReference(inputs);
        ref double area = ref MemoryMarshal.GetArrayDataReference(integrals);
        for (int i = 0; i < samples.Length; i += Vector256<double>.Count)
        {
            TCurve.Integral(Vector256.LoadUnsafe(ref x, (nuint)(i + 1))).StoreUnsafe(ref area, (nuint)(i + 1));
        }

        Span<double> results = stackalloc double[Vector256<double>.Count];
        for (int i = 0; i < samples.Length; i += Vector256<double>.Count)
        {
            Mean(ref x, ref area, (nuint)i).CopyTo(results);
            int count = Math.Min(Vector256<double>.Count, samples.Length - i);
            for (int lane = 0; lane < count; lane++)
            {
                samples[i + lane] = (float)results[lane];
            }
        }

        inputs[0] = inputs[samples.Length];
        integrals[0] = integrals[samples.Length];
    }

    private static Vector256<double> Mean(ref double x, ref double area, nuint i)
    {
        Vector256<double> before = Vector256.LoadUnsafe(ref x, i);
        Vector256<double> now = Vector256.LoadUnsafe(ref x, i + 1);
        Vector256<double> difference = now - before;
        Vector256<double> isSmall = Vector256.LessThan(Vector256.Abs(difference), Vector256.Create(SmallestDifference));
        Vector256<double> divisor = Vector256.ConditionalSelect(isSmall, Vector256<double>.One, difference);
        Vector256<double> quotient = (Vector256.LoadUnsafe(ref area, i + 1) - Vector256.LoadUnsafe(ref area, i)) / divisor;
        return isSmall == Vector256<double>.Zero
            ? quotient
            : Vector256.ConditionalSelect(isSmall, TCurve.Value((before + now) * 0.5), quotient);
    }
}
