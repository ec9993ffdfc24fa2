using LiveStems.Analysis.Caching;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Offline;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// The sums of all stems of a song, as they are and without corrections, block by block: of the sum that is kept and the stems
/// that are not in it, else of all stems, and then kept.
/// </summary>
internal sealed class SongSum : IDisposable
{
    private readonly IReadOnlyList<string> stems;
    private readonly KeptSum? kept;
    private readonly StemLane[] lanes;
    private readonly ParallelOptions how;
    private readonly PlanarStereo[] sumIn = Sides();
    private readonly PlanarStereo[] sumBare = Sides();
    private readonly Whole[] wholes = [];

    /// <param name="store">Where the sums are kept.</param>
    /// <param name="book">Knows the digests of the stems.</param>
    /// <param name="kept">The sum that is kept, or null.</param>
    /// <param name="lanes">The stems that are on their way through the song, by their indices: without a kept sum, all.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="how">Threads that share the work.</param>
    /// <exception cref="Files.AudioFileException">The sums can't be kept.</exception>
    public SongSum(RenderStore store, TrialBook book, KeptSum? kept, IReadOnlyDictionary<int, StemLane> lanes, int sampleRate, ParallelOptions how)
    {
        stems = book.StemsIn;
        this.kept = kept;
        this.how = how;
        this.lanes = kept is null ? [.. lanes.Values] : [.. kept.Missing.Select(stem => lanes[stem])];
        if (kept is null)
        {
            SumWriter writer = new(store, stems, sampleRate, isExact: true);
            try
            {
                wholes =
                [
                    new Whole(sumIn, (lane, side) => lane.AllIn(side), writer),
                    new Whole(sumBare, (lane, side) => lane.Bare(side), new SumWriter(store, book.StemsBare, sampleRate, isExact: false)),
                ];
            }
            catch
            {
                writer.Dispose();
                throw;
            }
        }
    }

    /// <summary>The stems as they are.</summary>
    public PlanarStereo In(int side) => sumIn[side];

    /// <summary>The stems without corrections.</summary>
    public PlanarStereo Bare(int side) => sumBare[side];

    /// <summary>The highest sample of a block.</summary>
    public float Peak(int frames, int side) => new[] { sumIn[side], sumBare[side] }.Max(sound =>
        Math.Max(Planar.Peak(sound.Left.AsSpan(0, frames)), Planar.Peak(sound.Right.AsSpan(0, frames))));

    /// <summary>Adds up a block, once all lanes have made it.</summary>
    public void Run(int frames, int side)
    {
        if (kept is null)
        {
            System.Threading.Tasks.Parallel.ForEach(wholes, how, whole => whole.Run(lanes, frames, side));
            return;
        }

        foreach (StemLane lane in lanes)
        {
            kept.Sum.Add(lane.AllIn(side), frames);
        }

        kept.Sum.Round(sumIn[side], frames);
        kept.Bare.Left.AsSpan(0, frames).CopyTo(sumBare[side].Left);
        kept.Bare.Right.AsSpan(0, frames).CopyTo(sumBare[side].Right);
    }

    /// <summary>
    /// Keeps the sums, unless something is lacking in them: they would be taken for the whole. Gives the digests of the stems in
    /// the sum that is kept now; null for none.
    /// </summary>
    public IReadOnlyList<string>? Keep()
    {
        if (kept is not null)
        {
            kept.Complete();
            return kept.Stems;
        }

        if (lanes.Any(lane => !lane.IsWhole))
        {
            return null;
        }

        Array.ForEach(wholes, whole => whole.Writer.Complete());
        return stems;
    }

    /// <summary>What was not kept is gone.</summary>
    public void Dispose() => Array.ForEach(wholes, whole => whole.Writer.Dispose());

    private static PlanarStereo[] Sides() =>
        [.. Enumerable.Range(0, StemLane.Sides).Select(_ => new PlanarStereo(new float[StemStates.MaximumFrames], new float[StemStates.MaximumFrames]))];

    private sealed class Whole(PlanarStereo[] sides, Func<StemLane, int, PlanarStereo> soundOf, SumWriter writer)
    {
        private readonly StereoSum sum = new(StemStates.MaximumFrames);

        public SumWriter Writer => writer;

        public void Run(StemLane[] lanes, int frames, int side)
        {
            sum.Clear(frames);
            foreach (StemLane lane in lanes)
            {
                sum.Add(soundOf(lane, side), frames);
            }

            sum.Round(sides[side], frames);
            writer.Write(sum, frames);
        }
    }
}
