using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Nonlinear;

/// <summary>A curve without memory and its antiderivative, four values at once; the same operations in every lane.</summary>
internal interface IShapingCurve
{
    /// <summary>f(x), |x| up to 1000.</summary>
    static abstract Vector256<double> Value(Vector256<double> x);

    /// <summary>F(x) with F′ = f, |x| up to 1000.</summary>
    static abstract Vector256<double> Integral(Vector256<double> x);
}
