namespace LiveStems.Dsp.Spectral;

/// <summary>
/// One frame's half spectrum of both channels, packed and scaled as by <see cref="RealFourierTransform.Forward"/> of the
/// windowed signal.
/// </summary>
public readonly ref struct StereoSpectrum
{
    internal StereoSpectrum(Span<float> leftReal, Span<float> leftImaginary, Span<float> rightReal, Span<float> rightImaginary)
    {
        LeftReal = leftReal;
        LeftImaginary = leftImaginary;
        RightReal = rightReal;
        RightImaginary = rightImaginary;
    }

    /// <summary>Real parts, left.</summary>
    public Span<float> LeftReal { get; }

    /// <summary>Imaginary parts, left.</summary>
    public Span<float> LeftImaginary { get; }

    /// <summary>Real parts, right.</summary>
    public Span<float> RightReal { get; }

    /// <summary>Imaginary parts, right.</summary>
    public Span<float> RightImaginary { get; }

    /// <summary>Bins of each channel.</summary>
    public int Bins => LeftReal.Length;
}
