namespace LiveStems.Dsp.Spectral;

/// <summary>Changes the spectra of a <see cref="ShortTimeTransform"/>, frame by frame.</summary>
public interface ISpectrumEditor
{
    /// <summary>
    /// Changes one frame in place. Called on the audio thread once every <see cref="ShortTimeTransform.HopFrames"/>: must
    /// not allocate, lock, wait or throw.
    /// </summary>
    void Edit(in StereoSpectrum spectrum);
}
