using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Offline;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// One stem on its way through the song in all the states that trials ask for. As it is, it is read where its render is kept
/// and nothing else is asked; else it is rendered, and kept.
/// </summary>
internal sealed class StemLane : IDisposable
{
    private readonly StoredSound? kept;
    private readonly StemStates rendered;
    private readonly WavWriter? writer;
    private readonly TailTrimmer? keeper;
    private readonly PlanarStereo[] sounds;
    private readonly Dictionary<string, PlanarStereo> states = new(StringComparer.Ordinal);

    /// <param name="song">The song as it is, its rate said.</param>
    /// <param name="bare">The song without corrections.</param>
    /// <param name="stem">Index of the stem.</param>
    /// <param name="book">Names the states.</param>
    /// <param name="trials">All trials.</param>
    /// <param name="store">Keeps renders.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <exception cref="Files.AudioFileException">The stem can't be read, or the render not be kept.</exception>
    public StemLane(
        Song song, Song bare, int stem, TrialBook book, IReadOnlyList<Trial> trials, RenderStore store, string albumFolder, ProcessorCatalogue catalogue)
    {
        Trial[] changed = [.. trials.Where(trial => trial.Stem == stem).DistinctBy(trial => trial.State)];
        string? path = store.Find(book.StemIn(stem));
        bool isRead = path is not null && changed.Length == 0;
        Stem[] wanted = [.. isRead ? [] : new[] { song.Stems[stem] }, bare.Stems[stem], .. changed.Select(trial => trial.Changed!)];
        rendered = new StemStates(song, stem, wanted, albumFolder, catalogue);
        try
        {
            kept = isRead ? new StoredSound(path!, StemStates.MaximumFrames) : null;
            AllIn = kept is null ? rendered.Sound(0) : new PlanarStereo(kept.Left, kept.Right);
            int at = isRead ? 0 : 1;
            Bare = rendered.Sound(at);
            foreach (Trial trial in changed)
            {
                at++;
                states.Add(trial.State!, rendered.Sound(at));
            }

            sounds = [AllIn, Bare, .. states.Values];
            if (path is null)
            {
                writer = store.Begin(book.StemIn(stem), song.SampleRate!.Value);
                keeper = new TailTrimmer(new FileSink(writer), 0, rendered.Frames, song.SampleRate!.Value);
            }
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>The stem as it is.</summary>
    public PlanarStereo AllIn { get; }

    /// <summary>The stem without corrections.</summary>
    public PlanarStereo Bare { get; }

    /// <summary>Frames from the start of the song to the end of the stem.</summary>
    public long Frames => rendered.Frames;

    /// <summary>The sound of a state, by its digest.</summary>
    public PlanarStereo State(string digest) => states[digest];

    /// <summary>Makes the next frames of every state.</summary>
    public void Run(int frames)
    {
        kept?.Read(frames);
        rendered.Run(frames);
        keeper?.Write(AllIn.Left.AsSpan(0, frames), AllIn.Right.AsSpan(0, frames));
    }

    /// <summary>The highest sample of all states in the last block.</summary>
    public float Peak(int frames) => sounds.Max(sound => Math.Max(Planar.Peak(sound.Left.AsSpan(0, frames)), Planar.Peak(sound.Right.AsSpan(0, frames))));

    /// <summary>Keeps what was rendered.</summary>
    public void Complete() => writer?.Complete();

    /// <summary>Closes the files; what was not completed is gone.</summary>
    public void Dispose()
    {
        kept?.Dispose();
        rendered.Dispose();
        writer?.Dispose();
    }
}
