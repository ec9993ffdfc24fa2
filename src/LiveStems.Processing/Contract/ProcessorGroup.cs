using LiveStems.Dsp.Simd;

namespace LiveStems.Processing.Contract;

/// <summary>
/// Several processors of one kind that each work on a sound of their own at the same time, side by side in the lanes of
/// vectors: for rendering, where many stems wait at once. Each gives the same bits as alone.
/// </summary>
/// <remarks>
/// All members are prepared, and none is used elsewhere while the group works. Only members that stand still and count the
/// same frames run side by side; else they take turns. The constructor allocates, nothing else does.
/// </remarks>
public abstract class ProcessorGroup
{
    private readonly Processor[] members;

    /// <summary>A group of processors, which go on to belong to whoever made them.</summary>
    protected ProcessorGroup(IReadOnlyList<Processor> members) => this.members = [.. members];

    /// <summary>Processes a block of each member's sound in place; without a key of its own.</summary>
    /// <param name="sounds">One sound for each member, in their order.</param>
    /// <param name="frames">Frames from the start of each, 1 to the longest block that the members were prepared for.</param>
    public void Process(ReadOnlySpan<PlanarStereo> sounds, int frames)
    {
        if (!StandsStill())
        {
            for (int i = 0; i < members.Length; i++)
            {
                members[i].Process(new StereoBlock(sounds[i].Left.AsSpan(0, frames), sounds[i].Right.AsSpan(0, frames)));
            }

            return;
        }

        foreach (Processor member in members)
        {
            member.StartBlock();
        }

        int done = 0;
        while (done < frames)
        {
            int count = Math.Min(members[0].FramesToTinyState, frames - done);
            ProcessSegments(sounds, done, count);
            done += count;
            foreach (Processor member in members)
            {
                member.Pass(count);
            }
        }
    }

    /// <summary>Processes a stretch of every sound in place; the members stand still.</summary>
    /// <param name="sounds">One sound for each member.</param>
    /// <param name="start">Where the stretch begins.</param>
    /// <param name="frames">Its length, at least 1.</param>
    protected abstract void ProcessSegments(ReadOnlySpan<PlanarStereo> sounds, int start, int frames);

    private bool StandsStill()
    {
        bool stands = true;
        foreach (Processor member in members)
        {
            stands &= member.StandsStill && member.FramesToTinyState == members[0].FramesToTinyState;
        }

        return stands;
    }
}
