namespace LiveStems.Dsp.Simd;

/// <summary>The memory of a planar stereo sound, for work on several sounds at once.</summary>
/// <param name="Left">Left samples.</param>
/// <param name="Right">Right samples; as long.</param>
public readonly record struct PlanarStereo(float[] Left, float[] Right);
