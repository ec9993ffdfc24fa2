using System.Runtime.InteropServices;
using BenchmarkDotNet.Attributes;
using LiveStems.Files;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;

namespace LiveStems.Bench.Kernels;

/// <summary>
/// A block of stereo between a file's bytes and planar floats. Divide by <see cref="Frames"/> for the time of a frame; the
/// copy shows what moving as many bytes costs.
/// </summary>
[MemoryDiagnoser]
public class SampleConversionBenchmarks
{
    /// <summary>Frames of a block; its bytes and floats stay in the second-level cache.</summary>
    public const int Frames = 8192;

    private readonly byte[] bytes = new byte[Frames * 2 * sizeof(double)];
    private readonly byte[] copy = new byte[Frames * 14];
    private readonly float[] left = new float[Frames];
    private readonly float[] right = new float[Frames];
    private SampleDecoder decoder = null!;
    private SampleEncoder encoder = null!;

    /// <summary>Form of a sample in the file.</summary>
    [Params("16", "24", "24 big-endian", "32", "32 float", "64 float")]
    public string Form { get; set; } = "24";

    /// <summary>Noise of half the full scale.</summary>
    [GlobalSetup]
    public void Prepare()
    {
        int bits = int.Parse(Form.Split(' ')[0]);
        bool isFloat = Form.EndsWith("float", StringComparison.Ordinal);
        decoder = new SampleDecoder(new SampleLayout(isFloat, bits / 8, Form.EndsWith("endian", StringComparison.Ordinal)), channels: 2);
        encoder = new SampleEncoder(new WavFormat(48_000, Math.Min(bits, 32), isFloat));
        Random random = new(1);
        for (int frame = 0; frame < Frames; frame++)
        {
            left[frame] = random.NextSingle() - 0.5f;
            right[frame] = random.NextSingle() - 0.5f;
        }

        if (bits < 64)
        {
            encoder.Encode(left, right, bytes);
        }
        else
        {
            double[] wide = [.. left.Zip(right).SelectMany(pair => (double[])[pair.First, pair.Second])];
            MemoryMarshal.AsBytes(wide.AsSpan()).CopyTo(bytes);
        }
    }

    /// <summary>Interleaved bytes to planar floats.</summary>
    [Benchmark]
    public bool Decode() => decoder.Decode(bytes, left, right);

    /// <summary>Planar floats to interleaved bytes (64-bit floats are not written: 32-bit in their place).</summary>
    [Benchmark]
    public bool Encode() => encoder.Encode(left, right, bytes);

    /// <summary>The bytes that 24-bit decoding reads and writes, copied.</summary>
    [Benchmark(Baseline = true)]
    public void Copy() => copy.AsSpan(0, Frames * 7).CopyTo(copy.AsSpan(Frames * 7));
}
