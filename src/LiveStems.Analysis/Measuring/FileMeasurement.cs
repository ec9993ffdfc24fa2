using LiveStems.Dsp.Loudness;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Measuring;

/// <summary>A sound file and its figures.</summary>
/// <param name="Info">What the file says about itself.</param>
/// <param name="Loudness">Loudness, range and peaks.</param>
/// <param name="Timeline">Loudness, PSR and correlation over time.</param>
public sealed record FileMeasurement(AudioFileInfo Info, LoudnessReport Loudness, LoudnessTimeline Timeline)
{
    private const int FramesAtOnce = 16_384;

    /// <summary>What the file is too short to be judged by, in words; nothing for most.</summary>
    public string? NotJudged => ShortMaterial.NotJudged(Info.Seconds);

    /// <summary>
    /// Measures a whole file per ITU-R BS.1770-5 and EBU Tech 3341/3342. A mono file counts as one channel (left).
    /// </summary>
    /// <param name="path">The file.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two stretches.</param>
    /// <exception cref="AudioFileException">The file cannot be read.</exception>
    public static FileMeasurement Measure(string path, IProgress<double>? progress, CancellationToken cancellation)
    {
        using IAudioReader reader = AudioFile.Open(path);
        LoudnessTimeline timeline = new(reader.Info.SampleRate);
        float[] left = new float[FramesAtOnce];
        float[] right = new float[FramesAtOnce];
        int frames;
        while ((frames = reader.Read(left, right)) > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            if (reader.Info.Channels == 1)
            {
                Array.Clear(right);
            }

            timeline.Add(left.AsSpan(0, frames), right.AsSpan(0, frames));
            progress?.Report((double)reader.Position / reader.Info.Frames);
        }

        return new FileMeasurement(reader.Info, ShortMaterial.Judged(timeline.Finish(), reader.Info.Seconds), timeline);
    }
}
