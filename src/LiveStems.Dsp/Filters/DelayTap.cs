using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>One reading place of a delay line.</summary>
internal sealed class DelayTap
{
    // The interpolator's taps from the oldest frame to the newest.
    private readonly double[] taps = new double[FractionalDelayKernel.Length];

    /// <summary>The delay in frames, without the interpolator's latency.</summary>
    public double Frames { get; private set; }

    /// <summary>Whole frames from the newest frame to the first one that the tap reads.</summary>
    public int WholeFrames { get; private set; }

    /// <summary>True when the tap reads one frame and no more.</summary>
    public bool IsWhole { get; private set; }

    /// <summary>Moves the tap.</summary>
    public void Set(double frames, bool isFractional)
    {
        Frames = frames;
        double whole = Math.Floor(frames);
        IsWhole = whole == frames;
        WholeFrames = (int)whole + (isFractional && IsWhole ? FractionalDelayKernel.HalfLength : 0);
        if (!IsWhole)
        {
            FractionalDelayKernel.Fill(frames - whole, taps);
            Array.Reverse(taps);
        }
    }

    /// <summary>Applies the interpolator to the last frames of a stretch.</summary>
    public double Filter(ReadOnlySpan<double> sound)
    {
        ReadOnlySpan<Vector256<double>> x = MemoryMarshal.Cast<double, Vector256<double>>(sound[^FractionalDelayKernel.Length..]);
        ReadOnlySpan<Vector256<double>> h = MemoryMarshal.Cast<double, Vector256<double>>(taps);
        Vector256<double> even = default, odd = default;
        for (int i = 0; i + 1 < h.Length && i + 1 < x.Length; i += 2)
        {
            even = Vector256.FusedMultiplyAdd(x[i], h[i], even);
            odd = Vector256.FusedMultiplyAdd(x[i + 1], h[i + 1], odd);
        }

        Vector256<double> sum = even + odd;
        Vector128<double> halves = sum.GetLower() + sum.GetUpper();
        return halves.ToScalar() + halves.GetElement(1);
    }
}
