using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Caching;

/// <summary>
/// Renders that are kept as 32-bit float files under the digest of what they are, so that only what changed is rendered
/// again. One in which a processor failed or was missing is kept apart.
/// </summary>
/// <param name="folder">Where they are kept.</param>
/// <param name="albumFolder">The folder that stem paths are relative to.</param>
/// <param name="catalogue">Where processors come from.</param>
public sealed class RenderStore(string folder, string albumFolder, ProcessorCatalogue catalogue)
{
    private const string Lacking = ".lacking";

    /// <summary>True where nothing may be taken that sounds otherwise than it was set: then a render that passes a processor by is refused.</summary>
    public bool IsStrict { get; init; }

    /// <summary>The file with a song's master: the one that is kept, else rendered now.</summary>
    /// <param name="song">The song, or a part of one, with its rate said.</param>
    /// <param name="cancellation">Stops between two blocks and leaves nothing behind.</param>
    /// <param name="leastFrames">Frames it has at least, in silence if need be.</param>
    /// <exception cref="AudioFileException">A stem can't be read or the file not be written.</exception>
    /// <exception cref="PassedByException">A processor was passed by, and the store is strict.</exception>
    public string Get(Song song, CancellationToken cancellation, long leastFrames = 0)
    {
        string name = SettingsDigest.Of(song, albumFolder, catalogue);
        return Get(
            leastFrames == 0 ? name : SettingsDigest.Of($"{leastFrames} {name}"),
            song.SampleRate!.Value,
            sink => Render(song, sink, cancellation, leastFrames));
    }

    /// <summary>The file that is kept under a name, else what <paramref name="make"/> writes now.</summary>
    /// <param name="name">The digest.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="make">Writes the sound.</param>
    public string Get(string name, int sampleRate, Action<IRenderSink> make) => Get(name, sampleRate, sink =>
    {
        make(sink);
        return [];
    });

    /// <summary>The file that is kept under a name, else what <paramref name="make"/> writes now.</summary>
    /// <param name="name">The digest.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="make">Writes the sound, and gives the processors that it passed by, in words.</param>
    /// <exception cref="PassedByException">There were some, and the store is strict.</exception>
    public string Get(string name, int sampleRate, Func<IRenderSink, IReadOnlyList<string>> make)
    {
        if (Find(name) is { } kept)
        {
            return kept;
        }

        (string whole, string lacking) = (PathOf(name), PathOf(name + Lacking));
        string fresh = Path.Combine(folder, $"{name}.{Guid.NewGuid():N}.wav");
        using WavWriter writer = WavWriter.Passing(fresh, new WavFormat(sampleRate, 32, IsFloat: true));
        IReadOnlyList<string> passedBy = Made(make, writer);
        if (IsStrict && passedBy.Count > 0)
        {
            throw new PassedByException(passedBy);
        }

        writer.Complete();
        string path = passedBy.Count > 0 ? lacking : whole;
        File.Move(fresh, path, overwrite: true);
        return path;
    }

    // Not the file that was asked for is at fault, but what is worked out on the way to it.
    private IReadOnlyList<string> Made(Func<IRenderSink, IReadOnlyList<string>> make, WavWriter writer)
    {
        try
        {
            return make(new FileSink(writer));
        }
        catch (AudioFileException fault) when (fault.InnerException is IOException && fault.Message.StartsWith(folder, StringComparison.Ordinal))
        {
            throw new AudioFileException($"{fault.Message}; it is kept there to work on from: the environment variable LIVESTEMS_CACHE names another folder", fault);
        }
    }

    /// <summary>The file that is kept under a name, or null.</summary>
    /// <param name="name">The digest.</param>
    public string? Find(string name)
    {
        (string whole, string lacking) = (PathOf(name), PathOf(name + Lacking));
        return IsKept(whole) ? whole : !IsStrict && IsKept(lacking) ? lacking : null;
    }

    /// <summary>The file that is kept under a name and lacks no processor, or null.</summary>
    /// <param name="name">The digest.</param>
    public string? FindWhole(string name) => IsKept(PathOf(name)) ? PathOf(name) : null;

    /// <summary>Begins a file that is kept under a name once it is complete.</summary>
    /// <param name="name">The digest.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public WavWriter Begin(string name, int sampleRate) => WavWriter.Passing(PathOf(name), new WavFormat(sampleRate, 32, IsFloat: true));

    /// <summary>Renders a song on the caller's thread.</summary>
    /// <param name="song">The song, or a part of one.</param>
    /// <param name="sink">Takes the sound.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <param name="leastFrames">Frames it has at least, in silence if need be.</param>
    /// <returns>The processors that were passed by, in words.</returns>
    public IReadOnlyList<string> Render(Song song, IRenderSink sink, CancellationToken cancellation, long leastFrames = 0)
    {
        using SongSources sources = SongSources.Open(song, albumFolder, PlanOptions.Offline);
        SongPlan plan = SongCompiler.Compile(song, sources, catalogue, PlanOptions.Offline);
        OfflineRenderer.Render(plan, sink, RenderOptions.Default with { Threads = 1, LeastFrames = leastFrames }, null, cancellation);
        return [.. plan.PassedBy()];
    }

    private string PathOf(string name) => Path.Combine(folder, name + ".wav");

    // A power cut may have left less of a file than its header says.
    private static bool IsKept(string path)
    {
        try
        {
            if (!File.Exists(path))
            {
                return false;
            }

            using (IAudioReader reader = AudioFile.Open(path))
            {
                if (new FileInfo(path).Length < reader.Info.Frames * 2 * sizeof(float))
                {
                    return false;
                }
            }

            File.SetLastWriteTimeUtc(path, DateTime.UtcNow);
            return true;
        }
        catch (Exception fault) when (fault is AudioFileException or IOException)
        {
            return false;
        }
    }
}

/// <summary>Processors that are switched on were passed by: not here, not to be prepared, or failed.</summary>
/// <param name="passedBy">Which, where and why, in words.</param>
public sealed class PassedByException(IReadOnlyList<string> passedBy) : Exception(string.Join("; ", passedBy))
{
    /// <summary>Which, where and why, in words.</summary>
    public IReadOnlyList<string> PassedBy { get; } = passedBy;
}
