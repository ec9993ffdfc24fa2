using System.Runtime.InteropServices;

namespace LiveStems.Bench.Peers;

/// <summary>libsoxr 0.1.3 (Debian libsoxr0), the calls that the comparison needs: planar floats in and out.</summary>
internal static unsafe partial class LibSoxr
{
    public const int HighQuality = 4;
    public const int VeryHighQuality = 6;

    private const string Library = "libsoxr.so.0";
    private const int PlanarFloats = 4;

    public static nint Start(int fromRate, int toRate, int recipe)
    {
        InputOutput types = new() { Input = PlanarFloats, Output = PlanarFloats, Scale = 1 };
        Quality quality = Recipe(new CULong((uint)recipe), new CULong(0));
        return Create(fromRate, toRate, 2, out _, types, quality, 0);
    }

    /// <summary>Feeds both channels and takes what comes out; returns the frames that did.</summary>
    public static int Process(nint state, Span<float> left, Span<float> right, Span<float> leftOutput, Span<float> rightOutput)
    {
        fixed (float* leftIn = left, rightIn = right, leftOut = leftOutput, rightOut = rightOutput)
        {
            float** inputs = stackalloc float*[] { leftIn, rightIn };
            float** outputs = stackalloc float*[] { leftOut, rightOut };
            _ = Process(state, inputs, (nuint)left.Length, out _, outputs, (nuint)leftOutput.Length, out nuint produced);
            return (int)produced;
        }
    }

    [LibraryImport(Library, EntryPoint = "soxr_delete")]
    public static partial void End(nint state);

    [LibraryImport(Library, EntryPoint = "soxr_quality_spec")]
    private static partial Quality Recipe(CULong recipe, CULong flags);

    [LibraryImport(Library, EntryPoint = "soxr_create")]
    private static partial nint Create(
        double fromRate, double toRate, uint channels, out nint error, in InputOutput types, in Quality quality, nint runtime);

    [LibraryImport(Library, EntryPoint = "soxr_process")]
    private static partial nint Process(
        nint state, void* input, nuint inputFrames, out nuint consumed, void* output, nuint outputFrames, out nuint produced);

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
