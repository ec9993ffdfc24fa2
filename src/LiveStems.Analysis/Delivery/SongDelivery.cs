using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// The sounds that a song's delivery is made of, each worked out once and kept: stems with all that is done to them, what
/// reaches the limiter, and what leaves it, for the master and its alternates, at every rate asked for.
/// </summary>
internal sealed class SongDelivery
{
    private const int BlockFrames = 2048;

    private readonly Song song;
    private readonly ProcessorCatalogue catalogue;
    private readonly RenderStore store;
    private readonly string albumFolder;
    private readonly CancellationToken cancellation;
    private long busFrames;

    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    public SongDelivery(Song song, string albumFolder, ProcessorCatalogue catalogue, CancellationToken cancellation)
    {
        this.catalogue = catalogue;
        this.albumFolder = albumFolder;
        this.cancellation = cancellation;
        store = new RenderStore(CacheFolder.For("renders"), albumFolder, catalogue) { IsStrict = true };
        using SongSources sources = SongSources.Open(song, albumFolder, PlanOptions.Offline);
        this.song = song with { SampleRate = sources.SampleRate, Notes = [] };
    }

    private string BusInput => store.Get(song with { Bus = Chain.Empty }, cancellation);

    private long BusFrames
    {
        get
        {
            if (busFrames == 0)
            {
                using StoredSound sound = new(BusInput, 1);
                busFrames = sound.Frames;
            }

            return busFrames;
        }
    }

    // How far the master rings on behind its bus input: alternates are as long to the sample, so that one can be cut into the other.
    private long MasterFrames
    {
        get
        {
            using StoredSound sound = new(UpToLimiter(), 1);
            return sound.Frames;
        }
    }

    private int Rate => song.SampleRate!.Value;

    /// <summary>The master as floats at a rate; the song's own for null.</summary>
    public string Master(int? sampleRate) => Limited(UpToLimiter(), sampleRate ?? Rate);

    /// <summary>A master or alternate as it stands on the album: cut and faded at its ends.</summary>
    public string OnAlbum(string path)
    {
        if (!song.Edges.ChangesTheSong)
        {
            return path;
        }

        SongEdges own = song.Edges with { GapBeforeSeconds = 0, CrossFadeSeconds = 0 };
        using EdgedSound sound = new(path, song.Title, own, BlockFrames);
        string name = SettingsDigest.Of($"edges {Albums.History.EdgeWords.Of(own)} {Path.GetFileName(path)}");
        return store.Get(name, sound.SampleRate, sink =>
        {
            for (long left = sound.Frames; left > 0; left -= BlockFrames)
            {
                cancellation.ThrowIfCancellationRequested();
                int frames = (int)Math.Min(left, BlockFrames);
                sound.Read(frames);
                sink.Write(sound.Left.AsSpan(0, frames), sound.Right.AsSpan(0, frames));
            }
        });
    }

    /// <summary>
    /// A stem with everything that is done to it, as it goes onto the song bus, as long as the bus input: what rings on
    /// below −120 dBFS is kept, for ten such ends would add up to more.
    /// </summary>
    public string TreatedStem(int index) => store.Get(SongParts.Alone(song, index), cancellation, BusFrames);

    /// <summary>
    /// Highest difference between the sum of the treated stems and what the engine brings to the song bus, in dBFS.
    /// </summary>
    public double NullDbfs()
    {
        string engine = BusInput;
        string[] stems = [.. Enumerable.Range(0, song.Stems.Length).Select(TreatedStem)];
        using StoredSound whole = new(engine, BlockFrames);
        using SoundSum sum = new(stems, BlockFrames);
        double largest = 0;
        for (long left = Math.Max(whole.Frames, sum.Frames); left > 0; left -= BlockFrames)
        {
            int frames = (int)Math.Min(left, BlockFrames);
            whole.Read(frames);
            sum.Read(frames);
            for (int i = 0; i < frames; i++)
            {
                largest = Math.Max(largest, Math.Max(Math.Abs((double)whole.Left[i] - sum.Left[i]), Math.Abs((double)whole.Right[i] - sum.Right[i])));
            }
        }

        return Decibels.FromAmplitude(largest);
    }

    /// <summary>An alternate as floats at a rate, the song's own for null.</summary>
    public string Alternate(Alternate alternate, bool isLinked, int? sampleRate)
    {
        double?[] levels = alternate.LevelsIn(song);
        Song asked = song with
        {
            Stems = [.. song.Stems.Select((stem, i) => levels[i] is { } level
                ? stem with { Placement = stem.Placement with { GainDb = stem.Placement.GainDb + level } }
                : stem with { Placement = stem.Placement with { Muted = true } })],
        };
        long length = MasterFrames;
        if (!isLinked)
        {
            string name = SettingsDigest.Of($"free {length} {SettingsDigest.Of(asked, albumFolder, catalogue)}");
            return Limited(store.Get(name, Rate, sink => Bus(levels, length, sink)), sampleRate ?? Rate);
        }

        string linked = SettingsDigest.Of($"linked {length} {sampleRate} {SettingsDigest.Of(asked, albumFolder, catalogue)}");
        return store.Get(linked, Rate, sink => LinkedBus.Run(song, Sum(UnityLevels()), Sum(levels), catalogue, Rate, length, sink, cancellation));
    }

    private double?[] UnityLevels() => [.. song.Stems.Select(_ => (double?)0)];

    // The same as the engine makes of the whole song, up to the limiter.
    private string UpToLimiter()
    {
        SongLimiter.Of(song, "deliver masters");
        return store.Get(song with { Bus = song.Bus with { Slots = song.Bus.Slots[..^1] } }, cancellation);
    }

    private SoundSum Sum(double?[] levels) => new(
        [.. levels.Select((level, i) => level is null ? null : TreatedStem(i)).OfType<string>()],
        BlockFrames,
        [.. levels.OfType<double>().Select(level => (float)Decibels.ToAmplitude(level))]);

    private IReadOnlyList<string> Bus(double?[] levels, long length, IRenderSink sink)
    {
        Chain before = song.Bus with { Slots = song.Bus.Slots[..^1] };
        using ChainRunner runner = new(before, catalogue, new Processing.Contract.ProcessingFormat(Rate, BlockFrames));
        Dictionary<string, StoredSound> keys = runner.Keys.ToDictionary(
            name => name, name => new StoredSound(store.Get(SongParts.AsDelivered(song, name), cancellation), BlockFrames));
        using SoundSum sum = Sum(levels);
        AlignedSink aligned = new(sink, runner.LatencyFrames);
        for (long left = length + runner.LatencyFrames; left > 0; left -= BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, BlockFrames);
            sum.Read(frames);
            foreach ((string name, StoredSound key) in keys)
            {
                key.Read(frames);
                runner.SetKey(name, key.Left.AsSpan(0, frames), key.Right.AsSpan(0, frames));
            }

            runner.Process(sum.Left.AsSpan(0, frames), sum.Right.AsSpan(0, frames));
            aligned.Write(sum.Left.AsSpan(0, frames), sum.Right.AsSpan(0, frames));
        }

        foreach (StoredSound key in keys.Values)
        {
            key.Dispose();
        }

        return [.. runner.PassedBy()];
    }

    // The limiter works at the rate of the file, so that its ceiling holds there.
    private string Limited(string path, int sampleRate)
    {
        ChainSlot limiter = SongLimiter.Of(song, "deliver masters");
        string settings = $"{limiter}{string.Join(',', limiter.Parameters)}";
        string name = SettingsDigest.Of($"limited {sampleRate} {settings} {Path.GetFileName(path)}");
        return store.Get(name, sampleRate, sink =>
        {
            IAudioReader file = AudioFile.Open(path);
            using IAudioReader reader = file.Info.SampleRate == sampleRate ? file : new ResampledReader(file, sampleRate);
            using ChainRunner runner = new(new Chain(false, [limiter]), catalogue, new Processing.Contract.ProcessingFormat(sampleRate, BlockFrames));
            AlignedSink aligned = new(sink, runner.LatencyFrames);
            float[] left = new float[BlockFrames];
            float[] right = new float[BlockFrames];
            int frames;
            while ((frames = reader.Read(left, right)) > 0)
            {
                cancellation.ThrowIfCancellationRequested();
                runner.Process(left.AsSpan(0, frames), right.AsSpan(0, frames));
                aligned.Write(left.AsSpan(0, frames), right.AsSpan(0, frames));
            }

            for (int rest = runner.LatencyFrames; rest > 0; rest -= BlockFrames)
            {
                frames = Math.Min(rest, BlockFrames);
                left.AsSpan(0, frames).Clear();
                right.AsSpan(0, frames).Clear();
                runner.Process(left.AsSpan(0, frames), right.AsSpan(0, frames));
                aligned.Write(left.AsSpan(0, frames), right.AsSpan(0, frames));
            }

            return [.. runner.PassedBy()];
        });
    }
}
