namespace LiveStems.Dsp.Nonlinear;

/// <summary>The curves of a saturator.</summary>
public enum ShapingCurve
{
    /// <summary>tanh x: odd harmonics, slope 1 at 0, level at ±1.</summary>
    Soft,

    /// <summary>(tanh(x + ½) − tanh ½) / sech² ½: even and odd harmonics, slope 1 at 0.</summary>
    Asymmetric,

    /// <summary>
    /// x + 0.1 (T₂(x) + 1): a sine of amplitude 1 gets a second harmonic of 0.1 and nothing else (T₂(cos θ) = cos 2θ).
    /// </summary>
    Second,

    /// <summary>
    /// x − 0.1 T₃(x): a sine of amplitude 1 gets a third harmonic of 0.1 and nothing else (T₃(cos θ) = cos 3θ).
    /// </summary>
    Third,

    /// <summary>sin(π x / 2): folds back what passes ±1.</summary>
    Fold,
}
