using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.TransientShaper;

/// <summary>Transient shapers side by side: what goes frame by frame, the followers, runs for all of them at once.</summary>
internal sealed class TransientShaperGroup(TransientShaperProcessor[] members) : ProcessorGroup(members)
{
    private readonly TransientFollowersGroup followers =
        new([.. members.Select(member => member.Followers)], TransientShaperProcessor.ChunkFrames);

    private readonly PlanarStereo[] levels = [.. members.Select(member => member.Levels)];

    /// <inheritdoc/>
    protected override void ProcessSegments(ReadOnlySpan<PlanarStereo> sounds, int start, int frames)
    {
        for (int done = 0; done < frames; done += TransientShaperProcessor.ChunkFrames)
        {
            int count = Math.Min(TransientShaperProcessor.ChunkFrames, frames - done);
            for (int i = 0; i < members.Length; i++)
            {
                members[i].FindPeaks(Chunk(sounds[i], start + done, count));
            }

            followers.Follow(levels, count);
            for (int i = 0; i < members.Length; i++)
            {
                // Members stand still, so the place in the control interval does not matter.
                members[i].ApplyGain(Chunk(sounds[i], start + done, count), 0);
            }
        }
    }

    private static StereoBlock Chunk(in PlanarStereo sound, int start, int count) =>
        new(sound.Left.AsSpan(start, count), sound.Right.AsSpan(start, count));
}
