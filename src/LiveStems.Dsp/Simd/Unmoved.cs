namespace LiveStems.Dsp.Simd;

/// <summary>
/// Arrays that the garbage collector leaves where they are: what lives as long as a plan would otherwise be copied twice
/// while music plays, and the audio thread would wait for it.
/// </summary>
internal static class Unmoved
{
    /// <summary>An array of zeros.</summary>
    public static T[] Array<T>(int count)
        where T : unmanaged => GC.AllocateArray<T>(count, pinned: true);
}
