using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Dynamics;

/// <summary>A one-pole smoother's coefficient for two channels: y[n] = α y[n−1] + (1 − α) x[n].</summary>
internal readonly struct Pole(double pole)
{
    private readonly Vector128<double> alpha = Vector128.Create(pole);
    private readonly Vector128<double> share = Vector128.Create(1 - pole);

    /// <summary>α.</summary>
    public double Alpha => alpha.ToScalar();

    /// <summary>1 − α.</summary>
    public double Share => share.ToScalar();

    /// <summary>The next value; from the state on one fused operation long.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector128<double> Step(Vector128<double> state, Vector128<double> target) =>
        Vector128.FusedMultiplyAdd(alpha, state, share * target);
}
