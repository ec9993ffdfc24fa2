namespace LiveStems.Analysis.Spectra;

/// <summary>The spectrum of a whole sound.</summary>
/// <param name="SampleRate">Frames per second.</param>
/// <param name="Frames">Frames of sound.</param>
/// <param name="BandsPerOctave">Bands to the octave.</param>
/// <param name="Bands">The bands, upwards.</param>
/// <param name="LineSize">Samples of the frames that the lines come from.</param>
/// <param name="Lines">
/// Mean square of each line, full scale ±1; line k lies at k / <paramref name="LineSize"/> of the sample rate.
/// </param>
/// <param name="Tilt">How the level falls or rises against pink noise.</param>
public sealed record LongTermSpectrum(
    int SampleRate, long Frames, int BandsPerOctave, IReadOnlyList<BandLevel> Bands, int LineSize, IReadOnlyList<double> Lines, PinkTilt Tilt)
{
    /// <summary>Distance between lines in Hz.</summary>
    public double LineHz => (double)SampleRate / LineSize;

    /// <summary>Length in seconds.</summary>
    public double Seconds => (double)Frames / SampleRate;
}
