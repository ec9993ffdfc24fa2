using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Delivery;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Offline;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// Walks once through a song and tries the limiter of many of its states at once: all stems in all the states that are asked
/// for, their sums, and a song bus for each trial.
/// </summary>
/// <remarks>
/// Stems and banks of trials of one block are shared out to threads, each with its own memory, so that the figures do not
/// depend on how many there are. The walk ends as a render does: when everything has been below −120 dBFS for a quarter of a
/// second behind the longest stem, and 10 s behind it at the latest.
/// </remarks>
internal sealed class TrialRun : IDisposable
{
    private const float Audible = 1e-6f;
    private const double QuietSeconds = 0.25;
    private const double LongestTailSeconds = 10;

    // Of few trials, each thread gets some: side by side in one bank they would leave the other threads without work.
    private const int BanksAThread = 2;

    private readonly KeptSum? kept;
    private readonly Dictionary<int, StemLane> lanes = [];
    private readonly StemLane[] inOrder;
    private readonly SongSum sum;
    private readonly TrialBank[] banks;
    private readonly Dictionary<string, StoredSound> keys;
    private readonly Dictionary<string, PlanarStereo>[] keySounds;
    private readonly List<WavWriter> writers = [];
    private readonly WorkShare work;
    private readonly CancellationToken cancellation;
    private readonly int sampleRate;
    private readonly long songFrames;

    /// <param name="song">The song as it is, its rate said.</param>
    /// <param name="bare">The song without corrections.</param>
    /// <param name="songFrames">Frames to the end of the longest stem.</param>
    /// <param name="book">Names the states.</param>
    /// <param name="trials">What is tried, at least one.</param>
    /// <param name="sumOf">Digests of the stems in the sum that is kept; none for no sum.</param>
    /// <param name="store">Keeps renders of stems, and of what reaches the limiter where a trial asks for it.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="how">Threads that will share the work, and the way to stop between two stems.</param>
    /// <exception cref="Files.AudioFileException">A stem can't be read, or a render not be kept.</exception>
    public TrialRun(
        Song song, Song bare, long songFrames, TrialBook book, IReadOnlyList<Trial> trials, IReadOnlyList<string> sumOf, RenderStore store, string albumFolder, ProcessorCatalogue catalogue, ParallelOptions how)
    {
        this.songFrames = songFrames;
        cancellation = how.CancellationToken;
        sampleRate = song.SampleRate!.Value;
        try
        {
            int[] all = [.. Enumerable.Range(0, song.Stems.Length)];
            int[] rendered = [.. all.Where(stem => StemLane.IsRendered(stem, book, trials, store))];
            kept = KeptSum.Find(store, sumOf, book, rendered, sampleRate);
            foreach (int stem in kept is null ? all : rendered)
            {
                lanes.Add(stem, new StemLane(song, bare, stem, book, trials, store, albumFolder, catalogue));
            }

            inOrder = [.. lanes.Values];
            sum = new SongSum(store, book, kept, lanes, sampleRate, how);
            int inOneBank = Math.Clamp((int)Math.Ceiling((double)trials.Count / (BanksAThread * how.MaxDegreeOfParallelism)), 1, TrialBank.MostTrials);
            banks = [.. trials.GroupBy(trial => trial.Bus).SelectMany(group => group.Chunk(inOneBank)).Select(chunk =>
                new TrialBank(chunk, [.. chunk.Select(SoundOf)], [.. chunk.Select(trial => CopyOf(trial, store))], catalogue, sampleRate, songFrames))];
            work = new WorkShare(banks.Length + inOrder.Length + (kept is null ? 0 : 1), how);
            keys = banks.SelectMany(bank => bank.Keys).Distinct().ToDictionary(
                name => name, name => new StoredSound(store.Get(SongParts.AsDelivered(song, name), how.CancellationToken), StemStates.MaximumFrames));
            keySounds = [.. Enumerable.Range(0, StemLane.Sides).Select(_ => keys.ToDictionary(pair => pair.Key, _ => Sound()))];
        }
        catch
        {
            DisposeLanes();
            throw;
        }
    }

    /// <summary>Digests of the stems in the sum that is kept from now on; null when that of before stays.</summary>
    public IReadOnlyList<string>? SumOf { get; private set; }

    /// <summary>Points of drive curves that were measured along, by the digests of the trials.</summary>
    public Dictionary<string, IReadOnlyDictionary<int, HeadroomFigures>> Points { get; } = new(StringComparer.Ordinal);

    /// <summary>Name under which what reaches the limiter of a trial is kept.</summary>
    public static string NameBeforeLimiter(Trial trial) => SettingsDigest.Of("before the limiter" + trial.Digest);

    /// <summary>Walks through the song and gives the figures by the digests of the trials.</summary>
    /// <param name="progress">Told the share done now and then.</param>
    public Dictionary<string, HeadroomFigures> Run(Action<double> progress)
    {
        long body = songFrames;
        long position = 0;
        long quiet = 0;
        int under = 0;
        int side = 0;
        while (under > 0 || position == 0)
        {
            cancellation.ThrowIfCancellationRequested();
            bool goesOn = position < body || (quiet < QuietSeconds * sampleRate && position < body + LongestTailSeconds * sampleRate);
            int next = !goesOn ? 0 : (int)(position < body ? Math.Min(StemStates.MaximumFrames, body - position) : StemStates.MaximumFrames);
            RunBlock(under, side, next);
            position += next;
            under = next;
            side = 1 - side;
            quiet = position > body && sum.Peak(next, side) < Audible && inOrder.All(lane => lane.Peak(next, side) < Audible) ? quiet + next : 0;
            progress(Math.Min(1, (double)position / body));
        }

        foreach (StemLane lane in inOrder)
        {
            lane.Complete();
        }

        Dictionary<string, HeadroomFigures> figures = new(StringComparer.Ordinal);
        foreach ((Trial trial, HeadroomFigures found, IReadOnlyDictionary<int, HeadroomFigures> points) in banks.SelectMany(bank => bank.Finish()))
        {
            figures[trial.Digest] = found;
            Points[trial.Digest] = points;
        }

        writers.ForEach(writer => writer.Complete());
        SumOf = sum.Keep();
        return figures;
    }

    /// <summary>Closes all files.</summary>
    public void Dispose()
    {
        DisposeLanes();
        foreach (StoredSound key in keys.Values)
        {
            key.Dispose();
        }
    }

    private void DisposeLanes()
    {
        kept?.Dispose();
        sum?.Dispose();
        foreach (IDisposable opened in lanes.Values.Concat<IDisposable>(writers))
        {
            opened.Dispose();
        }
    }

    private static PlanarStereo Sound() => new(new float[StemStates.MaximumFrames], new float[StemStates.MaximumFrames]);

    private TrialSound[] SoundOf(Trial trial) => [.. Enumerable.Range(0, StemLane.Sides).Select(side =>
    {
        PlanarStereo all = trial.StartsBare ? sum.Bare(side) : sum.In(side);
        if (trial.Stem < 0)
        {
            return new TrialSound(all, all, all);
        }

        StemLane lane = lanes[trial.Stem];
        return new TrialSound(all, trial.StartsBare ? lane.Bare(side) : lane.AllIn(side), lane.State(trial.State!, side));
    })];

    private FileSink? CopyOf(Trial trial, RenderStore store)
    {
        if (!trial.KeepsSound || store.Find(NameBeforeLimiter(trial)) is not null)
        {
            return null;
        }

        writers.Add(store.Begin(NameBeforeLimiter(trial), sampleRate));
        return new FileSink(writers[^1]);
    }

    // The stems of the next block beside the trials of the present one: one wait for each other a block.
    private void RunBlock(int frames, int side, int next)
    {
        work.Run(i =>
        {
            if (i < banks.Length)
            {
                banks[i].Run(frames, side, keySounds[side]);
            }
            else if (next > 0)
            {
                RunSource(i - banks.Length, next, 1 - side);
            }
        });
        if (next > 0)
        {
            sum.Run(next, 1 - side);
        }

        foreach ((string name, StoredSound key) in keys)
        {
            key.Read(next);
            key.Left.CopyTo(keySounds[1 - side][name].Left, 0);
            key.Right.CopyTo(keySounds[1 - side][name].Right, 0);
        }
    }

    private void RunSource(int source, int frames, int side)
    {
        if (source < inOrder.Length)
        {
            inOrder[source].Run(frames, side);
        }
        else
        {
            kept!.Run(frames);
        }
    }
}
