namespace LiveStems.View.Desk;

/// <summary>
/// One picture of a spectrum: levels in dBFS (AES17: a sine of full scale reads 0) over the bands of
/// <see cref="SpectrumModel.Frequencies"/>, mean of both sides. Pink noise is level.
/// </summary>
public sealed class SpectrumFrame
{
    internal SpectrumFrame(int points)
    {
        Input = new SpectrumCurves(points);
        Output = new SpectrumCurves(points);
    }

    /// <summary>Before the chain or processor.</summary>
    public SpectrumCurves Input { get; }

    /// <summary>After it.</summary>
    public SpectrumCurves Output { get; }

    /// <summary>Counts up with every picture.</summary>
    public long Number { get; internal set; }
}
