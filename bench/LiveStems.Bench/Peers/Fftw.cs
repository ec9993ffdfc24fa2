using System.Runtime.InteropServices;

namespace LiveStems.Bench.Peers;

/// <summary>Single-precision FFTW 3.3.10 (Debian libfftw3-single3): measured plans of real transforms, out of place.</summary>
internal sealed unsafe partial class Fftw
{
    private const string Library = "libfftw3f.so.3";
    private const uint Measure = 0;
    private const uint PreserveInput = 1 << 4;

    private readonly float* signal;
    private readonly float* spectrum;
    private readonly nint forward;
    private readonly nint inverse;

    public Fftw(ReadOnlySpan<float> samples)
    {
        int size = samples.Length;
        signal = Allocate((nuint)size * sizeof(float));
        spectrum = Allocate(((nuint)size + 2) * sizeof(float));
        forward = PlanForward(size, signal, spectrum, Measure);
        inverse = PlanInverse(size, spectrum, signal, Measure | PreserveInput);
        samples.CopyTo(new Span<float>(signal, size));
        Forward();
    }

    public void Forward() => Execute(forward);

    public void Inverse() => Execute(inverse);

    public void End()
    {
        DestroyPlan(forward);
        DestroyPlan(inverse);
        Free(signal);
        Free(spectrum);
    }

    [LibraryImport(Library, EntryPoint = "fftwf_malloc")]
    private static partial float* Allocate(nuint bytes);

    [LibraryImport(Library, EntryPoint = "fftwf_free")]
    private static partial void Free(float* memory);

    [LibraryImport(Library, EntryPoint = "fftwf_plan_dft_r2c_1d")]
    private static partial nint PlanForward(int size, float* signal, float* spectrum, uint flags);

    [LibraryImport(Library, EntryPoint = "fftwf_plan_dft_c2r_1d")]
    private static partial nint PlanInverse(int size, float* spectrum, float* signal, uint flags);

    // Without the change of thread state of an ordinary call, which would burden the short transforms.
    [SuppressGCTransition]
    [LibraryImport(Library, EntryPoint = "fftwf_execute")]
    private static partial void Execute(nint plan);

    [LibraryImport(Library, EntryPoint = "fftwf_destroy_plan")]
    private static partial void DestroyPlan(nint plan);
}
