using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Offline;

/// <summary>Walks a plan block by block on the caller's thread, stems of one kind side by side.</summary>
internal sealed class BlockWalk
{
    // Eight channels share a vector: four stems in stereo, or eight where one channel speaks for both.
    private const int LargestGroup = 8;

    private readonly SongPlan song;
    private readonly Action<PlanBlock> deliver;
    private readonly BranchGroup[] groups;

    /// <param name="song">What is rendered.</param>
    /// <param name="deliver">Runs the tail of the plan for a block and passes the result on.</param>
    public BlockWalk(SongPlan song, Action<PlanBlock> deliver)
    {
        this.song = song;
        this.deliver = deliver;
        groups = BranchGroup.ShareOut(song.Plan, LargestGroup);
    }

    /// <summary>Runs the next block from the stems to its delivery.</summary>
    public void RunBlock(int frames)
    {
        PlanBlock block = new(frames, 0);
        if (song.Plan.HasHead)
        {
            song.ReadForHead(frames);
            song.Plan.RunHead(block);
        }

        foreach (BranchGroup group in groups)
        {
            group.ReadAndRun(song, block);
        }

        deliver(block);
    }
}
