namespace LiveStems.Analysis.Spectra;

/// <summary>Takes the power of bands, frame by frame.</summary>
public interface IBandFrameSink
{
    /// <summary>Takes one frame of neighbouring bands that share a frame size.</summary>
    /// <param name="firstBand">The place of the first of them.</param>
    /// <param name="power">Mean square in each, full scale ±1; valid during the call.</param>
    /// <param name="hopFrames">Samples from the last such frame to this one.</param>
    /// <param name="isWhole">False at both ends of the sound, where silence fills the frame up.</param>
    void Take(int firstBand, ReadOnlySpan<float> power, int hopFrames, bool isWhole);
}
