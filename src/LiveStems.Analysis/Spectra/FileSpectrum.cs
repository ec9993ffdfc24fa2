using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Spectra;

/// <summary>A sound file and its long-term spectrum.</summary>
/// <param name="Info">What the file says about itself.</param>
/// <param name="Spectrum">Its spectrum.</param>
public sealed record FileSpectrum(AudioFileInfo Info, LongTermSpectrum Spectrum)
{
    private const int FramesAtOnce = 16_384;

    /// <summary>Reads a file once and takes its spectrum.</summary>
    /// <param name="path">The file.</param>
    /// <param name="bandsPerOctave">1 to 48.</param>
    /// <param name="channel">What of the stereo sound is looked at.</param>
    /// <param name="withCrest">True to measure the crest of every band.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two stretches.</param>
    /// <exception cref="AudioFileException">The file cannot be read.</exception>
    public static FileSpectrum Measure(string path, int bandsPerOctave, SpectrumChannel channel, bool withCrest, Action<double>? progress, CancellationToken cancellation)
    {
        using IAudioReader reader = AudioFile.Open(path);
        SpectrumAnalyser analyser = new(reader.Info.SampleRate, bandsPerOctave, channel, withCrest);
        float[] left = new float[FramesAtOnce];
        float[] right = new float[FramesAtOnce];
        int frames;
        while ((frames = reader.Read(left, right)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            analyser.Add(left.AsSpan(0, frames), right.AsSpan(0, frames));
            progress?.Invoke((double)reader.Position / reader.Info.Frames);
        }

        return new FileSpectrum(reader.Info, analyser.Finish());
    }
}
