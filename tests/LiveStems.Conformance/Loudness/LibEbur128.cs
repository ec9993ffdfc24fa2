using System.Runtime.InteropServices;

namespace LiveStems.Conformance.Loudness;

/// <summary>A meter of libebur128 (ebur128.h, version 1.2): integrated, range, momentary, short-term, true peak.</summary>
internal sealed partial class LibEbur128 : IDisposable
{
    private const string Library = "libebur128.so.1";
    private const int Momentary = 1 << 0;
    private const int ShortTerm = (1 << 1) | Momentary;
    private const int Integrated = (1 << 2) | Momentary;
    private const int Range = (1 << 3) | ShortTerm;
    private const int SamplePeak = (1 << 4) | Momentary;
    private const int TruePeak = (1 << 5) | SamplePeak;

    private nint state;

    public LibEbur128(int sampleRate)
    {
        bool isThere = NativeLibrary.TryLoad(Library, out nint handle);
        Prerequisite.Require(isThere, $"the library '{Library}' is not installed");
        NativeLibrary.Free(handle);
        state = Start(2, new CULong((uint)sampleRate), Integrated | Range | TruePeak);
        Xunit.Assert.NotEqual(0, state);
    }

    private delegate int Reading(nint state, out double value);

    public double IntegratedLufs => Read(ReadIntegrated);

    public double LoudnessRangeLu => Read(ReadRange);

    public double MomentaryLufs => Read(ReadMomentary);

    public double ShortTermLufs => Read(ReadShortTerm);

    public double TruePeakDbtp => 20 * Math.Log10(Math.Max(Peak(0), Peak(1)));

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        float[] interleaved = new float[2 * left.Length];
        for (int n = 0; n < left.Length; n++)
        {
            interleaved[2 * n] = left[n];
            interleaved[2 * n + 1] = right[n];
        }

        Xunit.Assert.Equal(0, AddFrames(state, interleaved, (nuint)left.Length));
    }

    public void Dispose()
    {
        if (state != 0)
        {
            End(ref state);
        }
    }

    private double Read(Reading reading)
    {
        Xunit.Assert.Equal(0, reading(state, out double value));
        return value;
    }

    private double Peak(uint channel)
    {
        Xunit.Assert.Equal(0, ReadTruePeak(state, channel, out double linear));
        return linear;
    }

    [LibraryImport(Library, EntryPoint = "ebur128_init")]
    private static partial nint Start(uint channels, CULong sampleRate, int mode);

    [LibraryImport(Library, EntryPoint = "ebur128_add_frames_float")]
    private static partial int AddFrames(nint state, ReadOnlySpan<float> interleaved, nuint frames);

    [LibraryImport(Library, EntryPoint = "ebur128_loudness_global")]
    private static partial int ReadIntegrated(nint state, out double lufs);

    [LibraryImport(Library, EntryPoint = "ebur128_loudness_range")]
    private static partial int ReadRange(nint state, out double lu);

    [LibraryImport(Library, EntryPoint = "ebur128_loudness_momentary")]
    private static partial int ReadMomentary(nint state, out double lufs);

    [LibraryImport(Library, EntryPoint = "ebur128_loudness_shortterm")]
    private static partial int ReadShortTerm(nint state, out double lufs);

    [LibraryImport(Library, EntryPoint = "ebur128_true_peak")]
    private static partial int ReadTruePeak(nint state, uint channel, out double linear);

    [LibraryImport(Library, EntryPoint = "ebur128_destroy")]
    private static partial void End(ref nint state);
}
