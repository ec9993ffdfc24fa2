using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>What each stem of one state of a song adds to its bus, and their sum, as kept files.</summary>
internal sealed class StemRenders
{
    private readonly RenderStore store;
    private readonly Song song;
    private readonly string[] stems;

    private StemRenders(RenderStore store, Song song, string[] stems, string sum)
    {
        this.store = store;
        this.song = song;
        this.stems = stems;
        Sum = sum;
    }

    /// <summary>The file with what one stem adds.</summary>
    public string Stem(int index) => stems[index];

    /// <summary>The file with the sum of all stems.</summary>
    public string Sum { get; }

    /// <summary>Renders what is not kept yet.</summary>
    /// <param name="store">Keeps renders.</param>
    /// <param name="song">The song, its rate said.</param>
    /// <param name="how">Threads that share the stems, and the way to stop.</param>
    /// <param name="stemDone">Told after each stem.</param>
    public static StemRenders Make(RenderStore store, Song song, ParallelOptions how, Action stemDone)
    {
        string[] stems = new string[song.Stems.Length];
        System.Threading.Tasks.Parallel.For(0, stems.Length, how, index =>
        {
            stems[index] = store.Get(SongParts.Alone(song, index), how.CancellationToken);
            stemDone();
        });
        string name = SettingsDigest.Of(string.Join(' ', stems.Select(Path.GetFileName)));
        string sum = store.Get(name, song.SampleRate!.Value, sink => Add(stems, sink, how.CancellationToken));
        return new StemRenders(store, song, stems, sum);
    }

    /// <summary>Tries the bus of a song that differs from this state in one stem at most.</summary>
    /// <param name="changed">The song.</param>
    /// <param name="stem">The stem that differs, or −1.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="beforeLimiter">Takes what reaches the limiter; may be null.</param>
    /// <param name="kept">Where the changed stem is kept, if it is; else it is rendered.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    public HeadroomFigures Try(Song changed, int stem, ProcessorCatalogue catalogue, IRenderSink? beforeLimiter, string? kept, CancellationToken cancellation)
    {
        BusTrial trial = new(changed.Bus, catalogue, song.SampleRate!.Value, beforeLimiter);
        Dictionary<string, StoredSound> keys = trial.Keys.ToDictionary(name => name, name => Open(store.Get(SongParts.AsDelivered(song, name), cancellation)));
        try
        {
            using StoredSound sum = Open(Sum);
            using StoredSound? old = stem < 0 ? null : Open(stems[stem]);
            ChangedStemSink sink = new(trial, sum, old, keys);
            if (kept is not null)
            {
                using StoredSound there = Open(kept);
                PassOn(there, sink, cancellation);
            }
            else if (stem >= 0)
            {
                store.Render(SongParts.Alone(changed, stem), sink, cancellation);
            }

            return sink.Finish();
        }
        finally
        {
            foreach (StoredSound key in keys.Values)
            {
                key.Dispose();
            }
        }
    }

    private static void Add(string[] paths, IRenderSink sink, CancellationToken cancellation)
    {
        using SoundSum sum = new(paths, BusTrial.BlockFrames);
        for (long left = sum.Frames; left > 0; left -= BusTrial.BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, BusTrial.BlockFrames);
            sum.Read(frames);
            sink.Write(sum.Left.AsSpan(0, frames), sum.Right.AsSpan(0, frames));
        }
    }

    private static void PassOn(StoredSound sound, ChangedStemSink sink, CancellationToken cancellation)
    {
        for (long left = sound.Frames; left > 0; left -= BusTrial.BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, BusTrial.BlockFrames);
            sound.Read(frames);
            sink.Write(sound.Left.AsSpan(0, frames), sound.Right.AsSpan(0, frames));
        }
    }

    private static StoredSound Open(string path) => new(path, BusTrial.BlockFrames);
}
