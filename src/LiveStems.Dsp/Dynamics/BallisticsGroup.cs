using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// Runs several <see cref="Ballistics"/> over reductions of their own, eight channels at a time in the lanes of a vector:
/// the recursion, which alone waits for itself most of the time, then costs next to nothing. Each gives the same bits as
/// alone. Allocates in the constructor only; not for use from two threads.
/// </summary>
public sealed class BallisticsGroup
{
    private const int Lanes = LaneRows.Lanes;

    private readonly Ballistics[] members;
    private readonly float[] idle;
    private readonly BallisticsChannel[] channels;
    private readonly float[][] memories;
    private readonly Vector256<float>[] rows;
    private readonly Vector256<float>[] rowsBeside;
    private int channelCount;

    /// <summary>A group of ballistics, which go on to belong to whoever made them.</summary>
    /// <param name="members">The ballistics.</param>
    /// <param name="maximumFrames">The longest run handed over at once, a multiple of eight.</param>
    public BallisticsGroup(IReadOnlyList<Ballistics> members, int maximumFrames)
    {
        this.members = [.. members];
        idle = new float[maximumFrames];
        channels = new BallisticsChannel[2 * members.Count];
        memories = new float[(channels.Length + Lanes - 1) / Lanes * Lanes][];
        rows = new Vector256<float>[maximumFrames];
        rowsBeside = new Vector256<float>[maximumFrames];
    }

    /// <summary>True where it is faster than one after the other.</summary>
    public static bool IsSupported => EightRows.IsSupported;

    /// <summary>
    /// Smooths, in place, the reductions of every member's two channels; linked channels pass the same memory twice. The
    /// memory must be a multiple of eight long; what lies behind the frames does not count.
    /// </summary>
    /// <param name="reductions">The reductions, in the order of the members.</param>
    /// <param name="frames">Frames that count.</param>
    public void Process(ReadOnlySpan<PlanarStereo> reductions, int frames)
    {
        RunPlain(reductions, frames);
        RunAdaptive(reductions, frames);
    }

    private void RunPlain(ReadOnlySpan<PlanarStereo> reductions, int frames)
    {
        TakeChannels(reductions, programmeDependent: false);
        int first = 0;
        for (; first + Lanes < channelCount; first += 2 * Lanes)
        {
            BallisticsLanes lanes = new(ChannelsAt(first)), beside = new(ChannelsAt(first + Lanes));
            LaneRows.Gather(MemoriesAt(first), Whole(rows, frames));
            LaneRows.Gather(MemoriesAt(first + Lanes), Whole(rowsBeside, frames));

            // The state must stand where the frames end.
            BallisticsKernels.PlainTwice(rows.AsSpan(0, frames), ref lanes, rowsBeside.AsSpan(0, frames), ref beside);
            LaneRows.Scatter(Whole(rows, frames), MemoriesAt(first));
            LaneRows.Scatter(Whole(rowsBeside, frames), MemoriesAt(first + Lanes));
            lanes.Keep(ChannelsAt(first));
            beside.Keep(ChannelsAt(first + Lanes));
        }

        if (first < channelCount)
        {
            RunEight(first, frames, programmeDependent: false);
        }
    }

    private void RunAdaptive(ReadOnlySpan<PlanarStereo> reductions, int frames)
    {
        TakeChannels(reductions, programmeDependent: true);
        for (int first = 0; first < channelCount; first += Lanes)
        {
            RunEight(first, frames, programmeDependent: true);
        }
    }

    private void RunEight(int first, int frames, bool programmeDependent)
    {
        BallisticsLanes lanes = new(ChannelsAt(first));
        LaneRows.Gather(MemoriesAt(first), Whole(rows, frames));
        if (programmeDependent)
        {
            BallisticsKernels.Adaptive(rows.AsSpan(0, frames), ref lanes);
        }
        else
        {
            BallisticsKernels.Plain(rows.AsSpan(0, frames), ref lanes);
        }

        LaneRows.Scatter(Whole(rows, frames), MemoriesAt(first));
        lanes.Keep(ChannelsAt(first));
    }

    private void TakeChannels(ReadOnlySpan<PlanarStereo> reductions, bool programmeDependent)
    {
        channelCount = 0;
        for (int i = 0; i < members.Length; i++)
        {
            if (members[i].AdaptsToProgramme == programmeDependent)
            {
                bool isLinked = ReferenceEquals(reductions[i].Left, reductions[i].Right);
                Take(members[i], 0, isLinked, reductions[i].Left);
                if (!isLinked)
                {
                    Take(members[i], 1, false, reductions[i].Right);
                }
            }
        }

        // Lanes without a member work on memory that nobody looks at.
        memories.AsSpan(channelCount).Fill(idle);
    }

    private void Take(Ballistics member, int channel, bool isLinked, float[] memory)
    {
        memories[channelCount] = memory;
        channels[channelCount++] = new BallisticsChannel(member, channel, isLinked);
    }

    private ReadOnlySpan<BallisticsChannel> ChannelsAt(int first) => channels.AsSpan(first, Math.Min(Lanes, channelCount - first));

    private ReadOnlySpan<float[]> MemoriesAt(int first) => memories.AsSpan(first, Lanes);

    private static Span<Vector256<float>> Whole(Vector256<float>[] rows, int frames) => rows.AsSpan(0, (frames + Lanes - 1) & -Lanes);
}
