using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>One reading place of a delay line.</summary>
internal sealed class DelayTap
{
    // The interpolator's taps from the oldest frame to the newest.
    private readonly double[] taps = new double[FractionalDelayKernel.Length];
    private int wholeFrames;
    private bool isWhole = true;

    /// <summary>The delay in frames, without the interpolator's latency.</summary>
    public double Frames { get; private set; }

    /// <summary>Moves the tap.</summary>
    public void Set(double frames, bool isFractional)
    {
        Frames = frames;
        double whole = Math.Floor(frames);
        isWhole = whole == frames;
        wholeFrames = (int)whole + (isFractional && isWhole ? FractionalDelayKernel.HalfLength : 0);
        if (!isWhole)
        {
            FractionalDelayKernel.Fill(frames - whole, taps);
            Array.Reverse(taps);
        }
    }

    /// <summary>Reads a stretch of a ring whose first frame belongs to the frame written at <paramref name="newest"/>.</summary>
    public void Read(ReadOnlySpan<float> ring, int newest, Span<float> sound)
    {
        if (isWhole)
        {
            ring.Slice(newest - wholeFrames, sound.Length).CopyTo(sound);
            return;
        }

        for (int n = 0; n < sound.Length; n++)
        {
            sound[n] = OutputFloats.Narrow(At(ring, newest + n));
        }
    }

    /// <summary>Reads one frame of a ring, as it was when the frame at <paramref name="newest"/> had been written.</summary>
    public double At(ReadOnlySpan<float> ring, int newest)
    {
        int last = newest - wholeFrames;
        return isWhole ? ring[last] : Interpolate(ring.Slice(last - FractionalDelayKernel.Length + 1, FractionalDelayKernel.Length));
    }

    private double Interpolate(ReadOnlySpan<float> sound)
    {
        ReadOnlySpan<Vector256<float>> x = MemoryMarshal.Cast<float, Vector256<float>>(sound);
        ReadOnlySpan<Vector256<double>> h = MemoryMarshal.Cast<double, Vector256<double>>(taps);
        Vector256<double> even = default, odd = default;
        for (int i = 0; i < x.Length; i++)
        {
            even = Vector256.FusedMultiplyAdd(Vector256.WidenLower(x[i]), h[2 * i], even);
            odd = Vector256.FusedMultiplyAdd(Vector256.WidenUpper(x[i]), h[2 * i + 1], odd);
        }

        Vector256<double> sum = even + odd;
        Vector128<double> halves = sum.GetLower() + sum.GetUpper();
        return halves.ToScalar() + halves.GetElement(1);
    }
}
