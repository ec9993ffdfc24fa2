using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Runs one section whose coefficients move: every frame has its own, on the straight line from one setting to the next.
/// </summary>
internal static class GlidingSection
{
    /// <summary>Runs the section over a stretch of [left right] frames, in place.</summary>
    /// <param name="frames">The sound.</param>
    /// <param name="from">Where the glide began.</param>
    /// <param name="to">Where it ends.</param>
    /// <param name="position">Frames of the glide that are over.</param>
    /// <param name="length">Frames of the whole glide; the last of them runs with <paramref name="to"/>.</param>
    /// <param name="band">State of the band integrators, unscaled.</param>
    /// <param name="low">State of the low integrators.</param>
    public static void Run(
        Span<Vector128<double>> frames,
        in StateVariableCoefficients from,
        in StateVariableCoefficients to,
        int position,
        int length,
        ref Vector128<double> band,
        ref Vector128<double> low)
    {
        Vector128<double> b = band;
        Vector128<double> l = low;
        for (int n = 0; n < frames.Length; n++)
        {
            StateVariableCoefficients c = Between(from, to, position + n + 1, length);
            double decay = c.Decay;
            Vector128<double> x = frames[n];
            Vector128<double> v = Vector128.FusedMultiplyAdd(Vector128.Create(c.G * decay), x - l, Vector128.Create(decay) * b);
            frames[n] = Vector128.FusedMultiplyAdd(
                Vector128.Create(c.Low), l, Vector128.FusedMultiplyAdd(Vector128.Create(c.BandTap), v, Vector128.Create(c.Direct) * x));
            b = Vector128.FusedMultiplyAdd(Vector128.Create(2.0), v, -b);
            l = Vector128.FusedMultiplyAdd(Vector128.Create(2 * c.G), v, l);
        }

        band = b;
        low = l;
    }

    /// <summary>The coefficients after <paramref name="position"/> of <paramref name="length"/> frames.</summary>
    public static StateVariableCoefficients Between(
        in StateVariableCoefficients from, in StateVariableCoefficients to, int position, int length)
    {
        if (position >= length)
        {
            return to;
        }

        double share = (double)position / length;
        return new(
            Math.FusedMultiplyAdd(share, to.G - from.G, from.G),
            Math.FusedMultiplyAdd(share, to.K - from.K, from.K),
            Math.FusedMultiplyAdd(share, to.Direct - from.Direct, from.Direct),
            Math.FusedMultiplyAdd(share, to.Band - from.Band, from.Band),
            Math.FusedMultiplyAdd(share, to.Low - from.Low, from.Low));
    }
}
