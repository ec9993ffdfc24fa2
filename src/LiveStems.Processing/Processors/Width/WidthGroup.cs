using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Width;

/// <summary>Width processors side by side: a side is one channel, so the filters of two share the lanes of left and right.</summary>
internal sealed class WidthGroup(WidthProcessor[] members) : ProcessorGroup(members)
{
    /// <inheritdoc/>
    protected override void ProcessSegments(ReadOnlySpan<PlanarStereo> sounds, int start, int frames)
    {
        for (int done = 0; done < frames; done += WidthProcessor.ChunkFrames)
        {
            int count = Math.Min(WidthProcessor.ChunkFrames, frames - done);
            for (int i = 0; i < members.Length; i += 2)
            {
                Span<float> left = sounds[i].Left.AsSpan(start + done, count);
                Span<float> right = sounds[i].Right.AsSpan(start + done, count);
                Span<float> side = members[i].SideOf(left, right);
                if (i + 1 == members.Length)
                {
                    members[i].Filter.Process(side);
                    members[i].Put(left, right, members[i].Position + done);
                    break;
                }

                Span<float> otherLeft = sounds[i + 1].Left.AsSpan(start + done, count);
                Span<float> otherRight = sounds[i + 1].Right.AsSpan(start + done, count);
                members[i].Filter.ProcessWith(members[i + 1].Filter, side, members[i + 1].SideOf(otherLeft, otherRight));
                members[i].Put(left, right, members[i].Position + done);
                members[i + 1].Put(otherLeft, otherRight, members[i + 1].Position + done);
            }
        }
    }
}
