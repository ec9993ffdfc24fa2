using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Space;

/// <summary>
/// What each of eight delay lines loses on every pass, as one first-order shelving filter a line: y = B0 x + s, s = B1 x − A1 y.
/// </summary>
/// <remarks>
/// J.-M. Jot and A. Chaigne, AES 90th Convention, 1991: a line of d frames loses 60 d / (T(f) · sample rate) dB, T the reverberation
/// time at each frequency, so that all lines decay together. Here T goes from one value at low frequencies to a shorter one
/// at high frequencies; the shelf is (1 + √G s) / (1 + s/√G), which at its corner loses the geometric mean.
/// </remarks>
internal readonly record struct LineAbsorption(Vector256<float> B0, Vector256<float> B1, Vector256<float> A1, float Injection)
{
    /// <summary>For lines of given lengths.</summary>
    /// <param name="frames">Eight lengths in frames.</param>
    /// <param name="lowSeconds">Reverberation time below the corner, s.</param>
    /// <param name="highSeconds">Reverberation time above the corner, s.</param>
    /// <param name="cornerHz">The corner, below half the sample rate.</param>
    /// <param name="sampleRate">Frames a second.</param>
    public static LineAbsorption For(ReadOnlySpan<int> frames, double lowSeconds, double highSeconds, double cornerHz, double sampleRate)
    {
        Vector256<float> b0 = default, b1 = default, a1 = default;
        double k = Math.Tan(Math.PI * cornerHz / sampleRate);
        double heard = 0;
        for (int line = 0; line < FeedbackDelayNetwork.Lines; line++)
        {
            double gain = Math.Pow(10, -3 * frames[line] / (lowSeconds * sampleRate));
            double root = Math.Pow(10, -1.5 * frames[line] / sampleRate * (1 / highSeconds - 1 / lowSeconds));
            double scale = 1 / (1 + 1 / (root * k));
            b0 = b0.WithElement(line, (float)(gain * (1 + root / k) * scale));
            b1 = b1.WithElement(line, (float)(gain * (1 - root / k) * scale));
            a1 = a1.WithElement(line, (float)((1 - 1 / (root * k)) * scale));
            heard += gain * gain / FeedbackDelayNetwork.Lines;
        }

        // A pass lets through a mean power of `heard`, which is what comes out first; going round and round it adds up to
        // heard / (1 − heard). Taken back here, so that a longer room is not a louder one.
        return new(b0, b1, a1, (float)Math.Sqrt((1 - heard) / heard));
    }

    /// <summary>A share of the way from one to another.</summary>
    public static LineAbsorption Between(in LineAbsorption from, in LineAbsorption to, float share)
    {
        Vector256<float> t = Vector256.Create(share);
        return new(
            Vector256.FusedMultiplyAdd(t, to.B0 - from.B0, from.B0),
            Vector256.FusedMultiplyAdd(t, to.B1 - from.B1, from.B1),
            Vector256.FusedMultiplyAdd(t, to.A1 - from.A1, from.A1),
            MathF.FusedMultiplyAdd(share, to.Injection - from.Injection, from.Injection));
    }
}
