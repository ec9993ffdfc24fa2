using System.Collections.Concurrent;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Memory of look-ahead that one song leaves to the next. The look-ahead of ten stems is some 20 MB: taken anew for each song,
/// it would have the collector go through all generations at every change of songs, beside the music. What is given back is
/// never let go, so there is never more of it than was once in use at the same time.
/// </summary>
internal static class RingMemory
{
    private static readonly ConcurrentDictionary<int, ConcurrentBag<float[]>> GivenBack = [];

    /// <summary>An array of exactly so many samples with anything in it.</summary>
    public static float[] Take(int length) =>
        GivenBack.TryGetValue(length, out ConcurrentBag<float[]>? free) && free.TryTake(out float[]? memory)
            ? memory
            : GC.AllocateArray<float>(length, pinned: true);

    /// <summary>Gives an array back that nobody writes to any more; whoever still reads it hears what the next song has in it.</summary>
    public static void GiveBack(float[] memory) => GivenBack.GetOrAdd(memory.Length, _ => []).Add(memory);
}
