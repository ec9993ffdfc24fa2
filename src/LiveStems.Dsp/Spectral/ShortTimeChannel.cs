using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>One channel of a <see cref="ShortTimeTransform"/>: its recent input, its spectrum and the output being added up.</summary>
internal sealed class ShortTimeChannel
{
    private readonly RealFourierTransform transform;
    private readonly int hop;
    private readonly float[] analysisWindow;
    private readonly float[] synthesisWindow;
    private readonly float[] history;
    private readonly float[] frame;
    private readonly float[] sums;
    private readonly float[] ready;
    private readonly float[] real;
    private readonly float[] imaginary;

    public ShortTimeChannel(RealFourierTransform transform, int hop)
    {
        this.transform = transform;
        this.hop = hop;
        int size = transform.Size;
        double scale = 8.0 * hop / (3.0 * size);
        analysisWindow = AnalysisWindow.Hann(size).Values.ToArray();
        synthesisWindow = Unmoved.Array<float>(size);
        for (int n = 0; n < size; n++)
        {
            synthesisWindow[n] = (float)(scale * (0.5 - 0.5 * Math.Cos(2 * Math.PI * n / size)));
        }

        history = Unmoved.Array<float>(size);
        frame = Unmoved.Array<float>(size);
        sums = Unmoved.Array<float>(size);
        ready = Unmoved.Array<float>(hop);
        real = Unmoved.Array<float>(transform.Bins);
        imaginary = Unmoved.Array<float>(transform.Bins);
    }

    public Span<float> Real => real;

    public Span<float> Imaginary => imaginary;

    public void Reset()
    {
        Array.Clear(history);
        Array.Clear(sums);
        Array.Clear(ready);
    }

    /// <summary>Takes input from a stretch of the present hop and puts finished output in its place.</summary>
    public void Exchange(Span<float> block, int position)
    {
        block.CopyTo(history.AsSpan(history.Length - hop + position));
        ready.AsSpan(position, block.Length).CopyTo(block);
    }

    /// <summary>The spectrum of the newest frame.</summary>
    public void Analyse()
    {
        Multiply(history, analysisWindow, frame);
        transform.Forward(frame, real, imaginary);
        history.AsSpan(hop).CopyTo(history);
    }

    /// <summary>Adds the signal of the spectrum to the output.</summary>
    public void Synthesise()
    {
        transform.Inverse(real, imaginary, frame);
        MultiplyAdd(frame, synthesisWindow, sums);
        sums.AsSpan(0, hop).CopyTo(ready);
        sums.AsSpan(hop).CopyTo(sums);
        sums.AsSpan(sums.Length - hop).Clear();
    }

    private static void Multiply(float[] signal, float[] window, float[] product)
    {
        ref float a = ref MemoryMarshal.GetArrayDataReference(signal);
        ref float b = ref MemoryMarshal.GetArrayDataReference(window);
        ref float to = ref MemoryMarshal.GetArrayDataReference(product);
        for (nuint n = 0; n < (nuint)signal.Length; n += (nuint)Vector256<float>.Count)
        {
            (Vector256.LoadUnsafe(ref a, n) * Vector256.LoadUnsafe(ref b, n)).StoreUnsafe(ref to, n);
        }
    }

    private static void MultiplyAdd(float[] signal, float[] window, float[] sums)
    {
        ref float a = ref MemoryMarshal.GetArrayDataReference(signal);
        ref float b = ref MemoryMarshal.GetArrayDataReference(window);
        ref float to = ref MemoryMarshal.GetArrayDataReference(sums);
        for (nuint n = 0; n < (nuint)signal.Length; n += (nuint)Vector256<float>.Count)
        {
            Vector256<float> sum = Vector256.LoadUnsafe(ref to, n);
            Vector256.FusedMultiplyAdd(Vector256.LoadUnsafe(ref a, n), Vector256.LoadUnsafe(ref b, n), sum).StoreUnsafe(ref to, n);
        }
    }
}
