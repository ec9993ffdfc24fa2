using System.Runtime.InteropServices;

namespace LiveStems.Bench.Peers;

/// <summary>libebur128 1.2.6 (Debian libebur128-1), the calls that the comparison needs.</summary>
internal static partial class LibEbur128
{
    public const int Integrated = (1 << 2) | 1;
    public const int Range = (1 << 3) | (1 << 1) | 1;
    public const int TruePeak = (1 << 5) | (1 << 4) | 1;

    private const string Library = "libebur128.so.1";

    [LibraryImport(Library, EntryPoint = "ebur128_init")]
    public static partial nint Start(uint channels, CULong sampleRate, int mode);

    [LibraryImport(Library, EntryPoint = "ebur128_add_frames_float")]
    public static partial int Add(nint state, ReadOnlySpan<float> interleaved, nuint frames);

    [LibraryImport(Library, EntryPoint = "ebur128_loudness_global")]
    public static partial int ReadIntegrated(nint state, out double lufs);

    [LibraryImport(Library, EntryPoint = "ebur128_loudness_range")]
    public static partial int ReadRange(nint state, out double lu);

    [LibraryImport(Library, EntryPoint = "ebur128_true_peak")]
    public static partial int ReadTruePeak(nint state, uint channel, out double linear);

    [LibraryImport(Library, EntryPoint = "ebur128_destroy")]
    public static partial void End(ref nint state);
}
