using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Dynamics;

namespace LiveStems.Processing.Processors.Expander;

/// <summary>The parts of the expander without memory, eight frames at once; spans are whole vectors.</summary>
internal static class ExpanderKernels
{
    /// <summary>Replaces magnitudes by their levels in dB.</summary>
    public static void ToLevelDb(Span<float> magnitudes)
    {
        foreach (ref Vector256<float> eight in MemoryMarshal.Cast<float, Vector256<float>>(magnitudes))
        {
            eight = LevelDetector.MagnitudeDb(eight);
        }
    }

    /// <summary>Moves each channel's reduction towards the smaller of both by a share of 0 to 1.</summary>
    public static void Link(Span<float> left, Span<float> right, float share)
    {
        Vector256<float> shares = Vector256.Create(share);
        Span<Vector256<float>> l = MemoryMarshal.Cast<float, Vector256<float>>(left);
        Span<Vector256<float>> r = MemoryMarshal.Cast<float, Vector256<float>>(right);
        for (int i = 0; i < l.Length && i < r.Length; i++)
        {
            Vector256<float> smaller = Vector256.MinNative(l[i], r[i]);
            l[i] = share >= 1 ? smaller : Vector256.FusedMultiplyAdd(shares, smaller - l[i], l[i]);
            r[i] = share >= 1 ? smaller : Vector256.FusedMultiplyAdd(shares, smaller - r[i], r[i]);
        }
    }
}
