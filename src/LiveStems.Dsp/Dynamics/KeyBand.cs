using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Filters;

namespace LiveStems.Dsp.Dynamics;

/// <summary>How strong one band of a key is: a filter of two sections and the mean power behind it.</summary>
/// <remarks>
/// <para>
/// A band is two equal resonators in a row, 1 at the centre, with flanks of 12 dB an octave. Two of them are narrower than
/// one by √(√2 − 1) (synchronous tuning; derived from (1 + x²)² = 2), so each gets the Q times that, and the whole has the
/// width that was asked for. Above and below a frequency it is one Butterworth section.
/// </para>
/// <para>The second section runs a frame behind the first, so that neither waits; a level does not mind.</para>
/// </remarks>
public sealed class KeyBand
{
    private const double HighestShare = 0.49;
    private const double LoudestPower = 1e12;

    private static readonly double Narrowing = Math.Sqrt(Math.Sqrt(2) - 1);
    private static readonly double ButterworthDamping = Math.Sqrt(2);

    private StageCoefficients stages = new(StateVariableCoefficients.Neutral, StateVariableCoefficients.Neutral);
    private Vector256<double> r;
    private Vector256<double> s;
    private Vector256<double> y;

    /// <summary>A band around a frequency; the state stays.</summary>
    /// <param name="frequencyHz">Centre, above 0; held below 0.49 of the sample rate.</param>
    /// <param name="q">Centre over width between the −3 dB points, above 0.</param>
    /// <param name="sampleRate">Frames a second.</param>
    public void SetBand(double frequencyHz, double q, double sampleRate)
    {
        double damping = 1 / (q * Narrowing);
        StateVariableCoefficients section = new(Warp(frequencyHz, sampleRate), damping, 0, damping, 0);
        stages = new(section, section);
    }

    /// <summary>All below a frequency, Hz; the state stays.</summary>
    public void SetBelow(double frequencyHz, double sampleRate) =>
        stages = new(new(Warp(frequencyHz, sampleRate), ButterworthDamping, 0, 0, 1), StateVariableCoefficients.Neutral);

    /// <summary>All above a frequency, Hz; the state stays.</summary>
    public void SetAbove(double frequencyHz, double sampleRate) =>
        stages = new(new(Warp(frequencyHz, sampleRate), ButterworthDamping, 1, -ButterworthDamping, -1), StateVariableCoefficients.Neutral);

    /// <summary>The Q of a band that is so many octaves wide: 1 / (2 sinh(width · ln 2 / 2)).</summary>
    public static double QFromOctaves(double octaves) => 0.5 / Math.Sinh(0.5 * Math.Log(2) * octaves);

    /// <summary>Silence before.</summary>
    public void Reset() => r = s = y = default;

    /// <summary>
    /// Filters a stretch of the key and returns its mean power, that of the louder channel; 0 for what is no sound, after
    /// which silence was before.
    /// </summary>
    public double Power(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        Vector128<double> sum = default;
        StageCoefficients run = stages;
        (Vector256<double> stateR, Vector256<double> stateS, Vector256<double> last) = (r, s, y);
        for (int n = 0; n < left.Length; n++)
        {
            Vector128<double> x = Vector128.Create((double)left[n], right[n]);
            last = run.Run(Vector256.Create(x, last.GetLower()), ref stateR, ref stateS);
            Vector128<double> output = last.GetUpper();
            sum = Vector128.FusedMultiplyAdd(output, output, sum);
        }

        double power = Math.Max(sum.ToScalar(), sum[1]) / left.Length;
        if (!(power <= LoudestPower))
        {
            Reset();
            return 0;
        }

        (r, s, y) = (WithoutTiny(stateR), WithoutTiny(stateS), WithoutTiny(last));
        return power;
    }

    private static double Warp(double frequencyHz, double sampleRate) =>
        Math.Tan(Math.PI * Math.Min(frequencyHz / sampleRate, HighestShare));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> WithoutTiny(Vector256<double> value) =>
        value & Vector256.GreaterThan(Vector256.Abs(value), Vector256.Create(1e-20));
}
