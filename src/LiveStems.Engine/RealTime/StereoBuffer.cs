namespace LiveStems.Engine.RealTime;

/// <summary>Planar stereo memory that the steps of a plan work on.</summary>
internal sealed class StereoBuffer(int frames)
{
    public float[] Left { get; } = GC.AllocateArray<float>(frames, pinned: true);

    public float[] Right { get; } = GC.AllocateArray<float>(frames, pinned: true);
}
