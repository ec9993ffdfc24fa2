using System.Runtime.InteropServices;

namespace LiveStems.Conformance.Resampling;

/// <summary>libsoxr 0.1.3 (soxr.h): whole signals at very high quality, 28 bits, in double, flat to 0.9 of the band.</summary>
internal static partial class LibSoxr
{
    private const string Library = "libsoxr.so.0";
    private const int Double = 1;
    private static readonly CULong VeryHighQuality = new(6);
    private static readonly CULong NoRollOffAndExactClock = new(2 | 8);

    public static double[] Resample(int fromRate, int toRate, float[] input)
    {
        bool isThere = NativeLibrary.TryLoad(Library, out nint handle);
        Prerequisite.Require(isThere, $"the library '{Library}' is not installed");
        NativeLibrary.Free(handle);
        double[] doubles = [.. input.Select(sample => (double)sample)];
        double[] output = new double[(int)((input.LongLength * toRate + fromRate - 1) / fromRate)];
        InputOutput types = new() { Input = Double, Output = Double, Scale = 1 };
        Quality quality = Recipe(VeryHighQuality, NoRollOffAndExactClock);
        nint error = OneShot(
            fromRate, toRate, 1, doubles, (nuint)doubles.Length, out _, output, (nuint)output.Length, out nuint done, types, quality, 0);
        Xunit.Assert.Equal(0, error);
        return output[..(int)done];
    }

    [LibraryImport(Library, EntryPoint = "soxr_quality_spec")]
    private static partial Quality Recipe(CULong recipe, CULong flags);

    [LibraryImport(Library, EntryPoint = "soxr_oneshot")]
    private static partial nint OneShot(
        double fromRate,
        double toRate,
        uint channels,
        ReadOnlySpan<double> input,
        nuint inputFrames,
        out nuint consumed,
        Span<double> output,
        nuint outputFrames,
        out nuint produced,
        in InputOutput types,
        in Quality quality,
        nint runtime);

    [StructLayout(LayoutKind.Sequential)]
    private struct InputOutput
    {
        public int Input;
        public int Output;
        public double Scale;
        public nint Extra;
        public CULong Flags;
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct Quality
    {
        public double Precision;
        public double PhaseResponse;
        public double PassBandEnd;
        public double StopBandBegin;
        public nint Extra;
        public CULong Flags;
    }
}
