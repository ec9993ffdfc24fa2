using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Caching;

/// <summary>Renders that are kept as 32-bit float files under the digest of what they are, so that only what changed is rendered again.</summary>
/// <param name="folder">Where they are kept.</param>
/// <param name="albumFolder">The folder that stem paths are relative to.</param>
/// <param name="catalogue">Where processors come from.</param>
public sealed class RenderStore(string folder, string albumFolder, ProcessorCatalogue catalogue)
{
    /// <summary>The file with a song's master: the one that is kept, else rendered now.</summary>
    /// <param name="song">The song, or a part of one, with its rate said.</param>
    /// <param name="cancellation">Stops between two blocks and leaves nothing behind.</param>
    /// <param name="leastFrames">Frames it has at least, in silence if need be.</param>
    /// <exception cref="Files.AudioFileException">A stem can't be read or the file not be written.</exception>
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
    public string Get(string name, int sampleRate, Action<IRenderSink> make)
    {
        if (Find(name) is { } path)
        {
            return path;
        }

        using WavWriter writer = Begin(name, sampleRate);
        make(new FileSink(writer));
        writer.Complete();
        return PathOf(name);
    }

    /// <summary>The file that is kept under a name, or null.</summary>
    /// <param name="name">The digest.</param>
    public string? Find(string name)
    {
        string path = PathOf(name);
        if (!File.Exists(path))
        {
            return null;
        }

        File.SetLastWriteTimeUtc(path, DateTime.UtcNow);
        return path;
    }

    /// <summary>Begins a file that is kept under a name once it is complete.</summary>
    /// <param name="name">The digest.</param>
    /// <param name="sampleRate">Frames per second.</param>
    public WavWriter Begin(string name, int sampleRate) => new(PathOf(name), new WavFormat(sampleRate, 32, IsFloat: true));

    private string PathOf(string name) => Path.Combine(folder, name + ".wav");

    /// <summary>Renders a song on the caller's thread.</summary>
    /// <param name="song">The song, or a part of one.</param>
    /// <param name="sink">Takes the sound.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <param name="leastFrames">Frames it has at least, in silence if need be.</param>
    public void Render(Song song, IRenderSink sink, CancellationToken cancellation, long leastFrames = 0)
    {
        using SongSources sources = SongSources.Open(song, albumFolder, PlanOptions.Offline);
        SongPlan plan = SongCompiler.Compile(song, sources, catalogue, PlanOptions.Offline);
        OfflineRenderer.Render(plan, sink, RenderOptions.Default with { Threads = 1, LeastFrames = leastFrames }, null, cancellation);
    }
}
