namespace LiveStems.Analysis.Spectra;

/// <summary>One band of a fractional-octave scale (IEC 61260-1:2014, base ten).</summary>
/// <param name="MidHz">Exact mid-band frequency in Hz.</param>
/// <param name="LowerHz">Lower band edge in Hz.</param>
/// <param name="UpperHz">Upper band edge in Hz.</param>
/// <param name="NominalHz">Rounded frequency to label it with: 31.5, 1000, …</param>
public readonly record struct OctaveBand(double MidHz, double LowerHz, double UpperHz, double NominalHz)
{
    /// <summary>Distance between the edges in Hz.</summary>
    public double WidthHz => UpperHz - LowerHz;
}
