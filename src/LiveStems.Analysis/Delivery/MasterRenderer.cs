using LiveStems.Albums.Model;
using LiveStems.Dsp.Dither;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Delivery;

/// <summary>Renders a song's master to a file and measures it on the way.</summary>
public static class MasterRenderer
{
    // Any fixed number will do: with a fixed one a render is the same bytes every time.
    private const ulong DitherSeed = 0x4C69_7665_5374_656D;

    /// <summary>
    /// Renders a song as it stands on the album, its ends cut and faded. The file appears under its name only when it is complete; whole-number files are dithered with
    /// triangular noise.
    /// </summary>
    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="format">The form of the file.</param>
    /// <param name="how">Threads and block length; no bit of the file depends on it.</param>
    /// <param name="path">Where the file shall stand.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks and leaves nothing behind.</param>
    /// <exception cref="DeliveryException">The song's cuts or fades are longer than it is.</exception>
    /// <exception cref="Files.AudioFileException">A stem cannot be read or the file not be written.</exception>
    public static MasterReport Render(
        Song song,
        string albumFolder,
        ProcessorCatalogue catalogue,
        MasterFormat format,
        RenderOptions how,
        string path,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        PlanOptions options = PlanOptions.Offline with { SampleRate = format.SampleRate };
        using SongSources sources = SongSources.Open(song, albumFolder, options);
        SongPlan plan = SongCompiler.Compile(song, sources, catalogue, options);
        using WavWriter writer = new(path, new WavFormat(sources.SampleRate, format.BitsPerSample, format.IsFloat));
        MasterSink sink = new(sources.SampleRate, format, writer);
        ShareReporter? reporter = progress is null ? null : new ShareReporter(progress);
        long frames;
        if (song.Edges.ChangesTheSong)
        {
            EdgingSink edged = new(sink, song.Title, song.Edges with { GapBeforeSeconds = 0, CrossFadeSeconds = 0 }, sources.SampleRate);
            OfflineRenderer.Render(plan, edged, how, reporter, cancellation);
            frames = edged.Finish();
        }
        else
        {
            frames = OfflineRenderer.Render(plan, sink, how, reporter, cancellation);
        }

        writer.Complete();
        OutsideUse[] outside = [.. plan.OutsideUses()];
        plan.Release();
        return new MasterReport(
            song.Title, path, sources.SampleRate, (double)frames / sources.SampleRate, sink.Finish(), writer.ClippedSamples, [.. plan.Remarks, .. plan.Failures()])
        {
            Outside = outside,
        };
    }

    private sealed class MasterSink(int sampleRate, MasterFormat format, WavWriter writer) : IRenderSink
    {
        private readonly ProgrammeMeter meter = new(sampleRate);
        private readonly TriangularDither? dither = format.BitsPerSample > 24 || format.IsFloat ? null : new TriangularDither(format.BitsPerSample, DitherSeed);
        private readonly float[] left = new float[PlanOptions.Offline.MaximumFrames];
        private readonly float[] right = new float[PlanOptions.Offline.MaximumFrames];

        public void Write(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
        {
            for (int done = 0; done < newLeft.Length; done += left.Length)
            {
                int frames = Math.Min(left.Length, newLeft.Length - done);
                Span<float> masterLeft = left.AsSpan(0, frames);
                Span<float> masterRight = right.AsSpan(0, frames);
                newLeft.Slice(done, frames).CopyTo(masterLeft);
                newRight.Slice(done, frames).CopyTo(masterRight);
                meter.Add(masterLeft, masterRight);
                dither?.Process(masterLeft, masterRight);
                writer.Write(masterLeft, masterRight);
            }
        }

        public LoudnessReport Finish() => meter.Finish();
    }
}
