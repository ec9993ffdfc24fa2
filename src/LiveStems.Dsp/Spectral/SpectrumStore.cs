using System.Runtime.CompilerServices;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Spectral;

/// <summary>Spectra of equal size, one after the other, each padded with zeros to whole tiles of 16 bins.</summary>
internal sealed class SpectrumStore
{
    public const int TileBins = 16;

    private readonly int bins;
    private readonly AlignedMemory<float> values;

    public SpectrumStore(int count, int bins)
    {
        this.bins = bins;
        Count = count;
        PaddedBins = (bins + TileBins - 1) / TileBins * TileBins;
        values = new AlignedMemory<float>(count * 2 * PaddedBins);
    }

    public int Count { get; }

    public int PaddedBins { get; }

    public Span<float> Real(int index) => values.Span.Slice(index * 2 * PaddedBins, bins);

    public Span<float> Imaginary(int index) => values.Span.Slice((index * 2 + 1) * PaddedBins, bins);

    /// <summary>Real parts, followed after <see cref="PaddedBins"/> by the imaginary parts.</summary>
    public ref float Start(int index) => ref Unsafe.Add(ref values.Start, (nint)index * 2 * PaddedBins);

    public void Clear() => values.Span.Clear();
}
