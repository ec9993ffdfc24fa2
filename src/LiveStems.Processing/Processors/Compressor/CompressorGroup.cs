using LiveStems.Dsp.Dynamics;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Compressor;

/// <summary>Compressors side by side: what goes frame by frame, attack and release, runs for all of them at once.</summary>
internal sealed class CompressorGroup(CompressorProcessor[] members) : ProcessorGroup(members)
{
    private readonly BallisticsGroup ballistics =
        new([.. members.Select(member => member.Ballistics)], CompressorProcessor.ChunkFrames);

    private readonly PlanarStereo[] reductions = new PlanarStereo[members.Length];

    /// <inheritdoc/>
    protected override void ProcessSegments(ReadOnlySpan<PlanarStereo> sounds, int start, int frames)
    {
        for (int done = 0; done < frames; done += CompressorProcessor.ChunkFrames)
        {
            int count = Math.Min(CompressorProcessor.ChunkFrames, frames - done);
            for (int i = 0; i < members.Length; i++)
            {
                reductions[i] = members[i].WantReduction(Chunk(sounds[i], start + done, count));
            }

            ballistics.Process(reductions, count);
            for (int i = 0; i < members.Length; i++)
            {
                // Members stand still, so the place in the control interval does not matter.
                members[i].ApplyReduction(Chunk(sounds[i], start + done, count), 0);
            }
        }
    }

    private static StereoBlock Chunk(in PlanarStereo sound, int start, int count) =>
        new(sound.Left.AsSpan(start, count), sound.Right.AsSpan(start, count));
}
