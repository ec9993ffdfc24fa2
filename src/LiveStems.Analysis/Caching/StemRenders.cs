using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Caching;

/// <summary>What each stem of one state of a song adds to its bus, and their sum, as kept files.</summary>
internal sealed class StemRenders
{
    private const int BlockFrames = 2048;

    private readonly string[] stems;

    private StemRenders(string[] stems, string sum)
    {
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
        return new StemRenders(stems, sum);
    }

    private static void Add(string[] paths, IRenderSink sink, CancellationToken cancellation)
    {
        using SoundSum sum = new(paths, BlockFrames);
        for (long left = sum.Frames; left > 0; left -= BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, BlockFrames);
            sum.Read(frames);
            sink.Write(sum.Left.AsSpan(0, frames), sum.Right.AsSpan(0, frames));
        }
    }
}
