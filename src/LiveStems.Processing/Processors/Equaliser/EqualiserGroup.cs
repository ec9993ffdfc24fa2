using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Simd;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Equaliser;

/// <summary>Equalisers side by side, <see cref="CascadeGroup.Lanes"/> at a time.</summary>
internal sealed class EqualiserGroup(EqualiserProcessor[] members) : ProcessorGroup(members)
{
    private readonly CascadeGroup[] cascades =
        [.. members.Chunk(CascadeGroup.Lanes).Select(some => new CascadeGroup([.. some.Select(member => member.Cascade)]))];

    /// <inheritdoc/>
    protected override void ProcessSegments(ReadOnlySpan<PlanarStereo> sounds, int start, int frames)
    {
        for (int i = 0; i < members.Length; i++)
        {
            members[i].ProcessBefore(Segment(sounds[i], start, frames));
        }

        for (int i = 0; i < cascades.Length; i++)
        {
            int first = i * CascadeGroup.Lanes;
            int count = Math.Min(CascadeGroup.Lanes, members.Length - first);
            cascades[i].Process(sounds.Slice(first, count), start, frames);
        }

        for (int i = 0; i < members.Length; i++)
        {
            members[i].ProcessBehind(Segment(sounds[i], start, frames));
        }
    }

    private static StereoBlock Segment(in PlanarStereo sound, int start, int frames) =>
        new(sound.Left.AsSpan(start, frames), sound.Right.AsSpan(start, frames));
}
