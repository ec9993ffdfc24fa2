using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Two sections ready to run side by side: lanes 0 and 1 are left and right of the first, 2 and 3 of the second, which
/// works one frame behind.
/// </summary>
internal struct StageCoefficients
{
    private Vector256<double> input;
    private Vector256<double> feedback;
    private Vector256<double> coupling;
    private Vector256<double> direct;
    private Vector256<double> band;
    private Vector256<double> low;

    public StageCoefficients(in StateVariableCoefficients first, in StateVariableCoefficients second)
    {
        input = Both(first.InputGain, second.InputGain);
        feedback = Both(2 * first.Decay, 2 * second.Decay);
        coupling = Both(2 * first.G, 2 * second.G);
        direct = Both(first.Direct, second.Direct);
        band = Both(first.BandTap, second.BandTap);
        low = Both(first.Low, second.Low);
    }

    /// <summary>One frame of both sections.</summary>
    /// <param name="x">Input.</param>
    /// <param name="bandState">State of the band integrators, scaled by the decay.</param>
    /// <param name="lowState">State of the low integrators.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly Vector256<double> Run(Vector256<double> x, ref Vector256<double> bandState, ref Vector256<double> lowState)
    {
        Vector256<double> v = Vector256.FusedMultiplyAdd(input, x - lowState, bandState);
        Vector256<double> y = Vector256.FusedMultiplyAdd(low, lowState, Vector256.FusedMultiplyAdd(band, v, direct * x));
        bandState = Vector256.FusedMultiplyAdd(feedback, v, -bandState);
        lowState = Vector256.FusedMultiplyAdd(coupling, v, lowState);
        return y;
    }

    /// <summary>The same frame of the first section alone; bit for bit what <see cref="Run"/> does in its lanes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly Vector128<double> RunFirst(Vector128<double> x, ref Vector128<double> bandState, ref Vector128<double> lowState)
    {
        Vector128<double> v = Vector128.FusedMultiplyAdd(input.GetLower(), x - lowState, bandState);
        Vector128<double> y = Vector128.FusedMultiplyAdd(
            low.GetLower(), lowState, Vector128.FusedMultiplyAdd(band.GetLower(), v, direct.GetLower() * x));
        bandState = Vector128.FusedMultiplyAdd(feedback.GetLower(), v, -bandState);
        lowState = Vector128.FusedMultiplyAdd(coupling.GetLower(), v, lowState);
        return y;
    }

    private static Vector256<double> Both(double first, double second) =>
        Vector256.Create(Vector128.Create(first), Vector128.Create(second));
}
