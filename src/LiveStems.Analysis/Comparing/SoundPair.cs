using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;
using LiveStems.Analysis.Delivery;

namespace LiveStems.Analysis.Comparing;

/// <summary>
/// Two rendered sounds, aligned to the sample, in files of a folder that goes away with them: a song of any length takes no
/// memory.
/// </summary>
internal sealed class SoundPair : IDisposable
{
    private const int BlockFrames = 8192;

    private readonly string folder;

    private SoundPair(string folder, int sampleRate)
    {
        this.folder = folder;
        SampleRate = sampleRate;
    }

    /// <summary>Takes two stretches of one length.</summary>
    public delegate void Visit(ReadOnlySpan<float> firstLeft, ReadOnlySpan<float> firstRight, ReadOnlySpan<float> secondLeft, ReadOnlySpan<float> secondRight);

    /// <summary>Rate of both in Hz.</summary>
    public int SampleRate { get; }

    private string First => Path.Combine(folder, "first.wav");

    private string Second => Path.Combine(folder, "second.wav");

    /// <summary>Renders both sides of a comparison: "in" first.</summary>
    /// <exception cref="Files.AudioFileException">A file cannot be read.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static SoundPair Of(
        ComparedSongs songs, string albumFolder, ProcessorCatalogue catalogue, IProgress<double>? progress, CancellationToken cancellation) =>
        Of(songs.In ?? AsSong(songs.InFile!), songs.Out, albumFolder, catalogue, progress, cancellation);

    /// <summary>Renders two songs at a rate, or at that of the second.</summary>
    public static SoundPair Of(
        Song first,
        Song second,
        string albumFolder,
        ProcessorCatalogue catalogue,
        IProgress<double>? progress,
        CancellationToken cancellation,
        int? sampleRate = null)
    {
        string folder = Directory.CreateTempSubdirectory("livestems-").FullName;
        try
        {
            int rate = Render(second, albumFolder, catalogue, sampleRate, Path.Combine(folder, "second.wav"), Half(progress, 0), cancellation);
            if (ReferenceEquals(first, second))
            {
                File.Copy(Path.Combine(folder, "second.wav"), Path.Combine(folder, "first.wav"));
            }
            else
            {
                Render(first, albumFolder, catalogue, rate, Path.Combine(folder, "first.wav"), Half(progress, 0.5), cancellation);
            }

            return new SoundPair(folder, rate);
        }
        catch
        {
            Directory.Delete(folder, recursive: true);
            throw;
        }
    }

    /// <summary>Goes through a stretch of both; what the shorter one lacks is silence.</summary>
    /// <param name="from">Where it starts, in seconds.</param>
    /// <param name="to">Where it ends; null for the end of the longer one.</param>
    /// <param name="visit">Takes the stretches, one after the other.</param>
    /// <param name="cancellation">Stops between two stretches.</param>
    /// <returns>Frames gone through.</returns>
    public long Walk(double from, double? to, Visit visit, CancellationToken cancellation)
    {
        using IAudioReader first = AudioFile.Open(First);
        using IAudioReader second = AudioFile.Open(Second);
        long longest = Math.Max(first.Info.Frames, second.Info.Frames);
        long start = Math.Clamp((long)(from * SampleRate), 0, longest);
        long end = Math.Clamp(to is { } seconds ? (long)(seconds * SampleRate) : longest, start, longest);
        first.Seek(Math.Min(start, first.Info.Frames));
        second.Seek(Math.Min(start, second.Info.Frames));
        float[][] sound = [.. Enumerable.Range(0, 4).Select(_ => new float[BlockFrames])];
        for (long done = start; done < end; done += BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(BlockFrames, end - done);
            Fill(first, sound[0].AsSpan(0, frames), sound[1].AsSpan(0, frames));
            Fill(second, sound[2].AsSpan(0, frames), sound[3].AsSpan(0, frames));
            visit(sound[0].AsSpan(0, frames), sound[1].AsSpan(0, frames), sound[2].AsSpan(0, frames), sound[3].AsSpan(0, frames));
        }

        return end - start;
    }

    /// <summary>Removes the files.</summary>
    public void Dispose() => Directory.Delete(folder, recursive: true);

    private static void Fill(IAudioReader reader, Span<float> left, Span<float> right)
    {
        int done = 0;
        int more;
        while (done < left.Length && (more = reader.Read(left[done..], right[done..])) > 0)
        {
            done += more;
        }

        left[done..].Clear();
        right[done..].Clear();
    }

    private static int Render(
        Song song, string albumFolder, ProcessorCatalogue catalogue, int? rate, string path, IProgress<double>? progress, CancellationToken cancellation)
    {
        PlanOptions options = PlanOptions.Offline with { SampleRate = rate };
        song = HeardStems.Of(song);
        using SongSources sources = SongSources.Open(song, albumFolder, options);
        SongPlan plan = SongCompiler.Compile(song, sources, catalogue, options);
        using WavWriter writer = new(path, new WavFormat(sources.SampleRate, 32, IsFloat: true));
        OfflineRenderer.Render(plan, new FileSink(writer), RenderOptions.Default, progress is null ? null : new ShareReporter(progress), cancellation);
        writer.Complete();
        return sources.SampleRate;
    }

    private static Song AsSong(ComparedFile file)
    {
        Stem stem = new("file", file.Path, string.Empty, StemRole.Other, Placement.AsDelivered with { DelayFrames = file.DelayFrames }, Chain.Empty, [], []);
        return new Song("file", null, null, null, [stem], Chain.Empty, []);
    }

    private static HalfProgress? Half(IProgress<double>? progress, double start) => progress is null ? null : new HalfProgress(progress, start);

    private sealed class HalfProgress(IProgress<double> whole, double start) : IProgress<double>
    {
        public void Report(double value) => whole.Report(start + value / 2);
    }
}
