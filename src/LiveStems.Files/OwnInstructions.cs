using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace LiveStems.Files;

/// <summary>
/// The machine's own instructions by name where code compiled ahead of time would call functions for every number in place
/// of them: it knows those of its instruction set, but not what "native" will mean where it runs.
/// </summary>
internal static class OwnInstructions
{
    /// <summary>Numbers within the range of 32 bits, rounded to the nearest.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<int> ToIntegers(Vector128<float> numbers) =>
        Sse2.IsSupported ? Sse2.ConvertToVector128Int32(numbers) : Vector128.ConvertToInt32Native(numbers);

    /// <summary>Numbers kept within a range; what is no number becomes the highest or stays no number.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<float> Within(Vector128<float> numbers, Vector128<float> lowest, Vector128<float> highest) =>
        Sse.IsSupported ? Sse.Max(Sse.Min(numbers, highest), lowest) : Vector128.MaxNative(Vector128.MinNative(numbers, highest), lowest);

    /// <summary>Bytes picked by their place; 0 where the place is 255.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector128<byte> Pick(Vector128<byte> bytes, Vector128<byte> places) =>
        Ssse3.IsSupported ? Ssse3.Shuffle(bytes, places) : Vector128.ShuffleNative(bytes, places);
}
