namespace LiveStems.Analysis.Spectra;

/// <summary>Takes the spectra of overlapping frames.</summary>
public interface IPowerFrameSink
{
    /// <summary>Takes one frame.</summary>
    /// <param name="power">
    /// Mean square of each bin from 0 to half the sample rate, full scale ±1; together the mean square of the windowed
    /// frame. Valid during the call.
    /// </param>
    /// <param name="isWhole">False at both ends of the sound, where silence fills the frame up.</param>
    void Take(ReadOnlySpan<float> power, bool isWhole);
}
