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
    /// <summary>Blocks that may be under way at once.</summary>
    public const int Sides = 2;

    private readonly StoredSound? kept;
    private readonly PlanarStereo[]? keptSides;
    private readonly StemStates rendered;
    private readonly WavWriter? writer;
    private readonly TailTrimmer? keeper;
    private readonly Dictionary<string, int> states = new(StringComparer.Ordinal);
    private readonly int bare;
    private readonly int count;
    private readonly bool isWhole;

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
        bool isRead = !IsRendered(stem, book, trials, store);
        isWhole = !isRead || store.FindWhole(book.StemIn(stem)) is not null;
        Stem[] wanted = [.. isRead ? [] : new[] { song.Stems[stem] }, bare.Stems[stem], .. changed.Select(trial => trial.Changed!)];
        rendered = new StemStates(song, stem, wanted, albumFolder, catalogue, Sides);
        try
        {
            if (isRead)
            {
                kept = new StoredSound(path!, StemStates.MaximumFrames);
                keptSides = [.. Enumerable.Range(0, Sides).Select(_ => new PlanarStereo(new float[StemStates.MaximumFrames], new float[StemStates.MaximumFrames]))];
            }

            this.bare = isRead ? 0 : 1;
            for (int i = 0; i < changed.Length; i++)
            {
                states.Add(changed[i].State!, this.bare + 1 + i);
            }

            count = wanted.Length;
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

    /// <summary>True when a stem can't be read in place of being rendered.</summary>
    public static bool IsRendered(int stem, TrialBook book, IReadOnlyList<Trial> trials, RenderStore store) =>
        trials.Any(trial => trial.Stem == stem) || store.Find(book.StemIn(stem)) is null;

    /// <summary>The stem as it is.</summary>
    public PlanarStereo AllIn(int side) => keptSides is null ? rendered.Sound(0, side) : keptSides[side];

    /// <summary>The stem without corrections.</summary>
    public PlanarStereo Bare(int side) => rendered.Sound(bare, side);

    /// <summary>Frames from the start of the song to the end of the stem.</summary>
    public long Frames => rendered.Frames;

    /// <summary>The sound of a state, by its digest.</summary>
    public PlanarStereo State(string digest, int side) => rendered.Sound(states[digest], side);

    /// <summary>Makes the next frames of every state.</summary>
    public void Run(int frames, int side)
    {
        if (kept is not null)
        {
            kept.Read(frames);
            kept.Left.AsSpan(0, frames).CopyTo(keptSides![side].Left);
            kept.Right.AsSpan(0, frames).CopyTo(keptSides[side].Right);
        }

        rendered.Run(frames, side);
        keeper?.Write(AllIn(side).Left.AsSpan(0, frames), AllIn(side).Right.AsSpan(0, frames));
    }

    /// <summary>The highest sample of all states in a block.</summary>
    public float Peak(int frames, int side)
    {
        float peak = PeakOf(AllIn(side), frames);
        for (int state = 0; state < count; state++)
        {
            peak = Math.Max(peak, PeakOf(rendered.Sound(state, side), frames));
        }

        return peak;
    }

    /// <summary>True when it lacked no processor.</summary>
    public bool IsWhole => isWhole && !rendered.PassedBy().Any();

    /// <summary>Keeps what was rendered, unless it lacks a processor: others take what is kept for the whole.</summary>
    public void Complete()
    {
        if (IsWhole)
        {
            writer?.Complete();
        }
    }

    /// <summary>Closes the files; what was not completed is gone.</summary>
    public void Dispose()
    {
        kept?.Dispose();
        rendered.Dispose();
        writer?.Dispose();
    }

    private static float PeakOf(in PlanarStereo sound, int frames) => Math.Max(Planar.Peak(sound.Left.AsSpan(0, frames)), Planar.Peak(sound.Right.AsSpan(0, frames)));
}
