using BenchmarkDotNet.Attributes;
using LiveStems.Dsp.Resampling;

namespace LiveStems.Bench.Peers;

/// <summary>Ten seconds of stereo sound from rate to rate in blocks of 4096 frames, both sides planar floats.</summary>
[MemoryDiagnoser]
public class ResamplerPeers
{
    private const int FramesAtOnce = 4096;
    private const int Seconds = 10;

    private float[] left = [];
    private float[] right = [];
    private float[] leftOutput = [];
    private float[] rightOutput = [];
    private StreamingResampler resampler = new(48_000, 44_100);
    private nint highQuality;
    private nint veryHighQuality;

    [Params(
        "48000-44100", "44100-48000", "96000-44100", "44100-96000", "96000-48000", "48000-96000", "192000-44100", "44100-192000",
        "88200-48000", "384000-44100", "8000-48000", "44101-48000", "44100-47999")]
    public string Rates { get; set; } = "48000-44100";

    [GlobalSetup]
    public void Prepare()
    {
        int[] rates = [.. Rates.Split('-').Select(int.Parse)];
        left = ProgrammeSamples.PinkNoise(rates[0], Seconds, 1);
        right = ProgrammeSamples.PinkNoise(rates[0], Seconds, 2);
        leftOutput = new float[(int)(FramesAtOnce * Math.Max(1, (double)rates[1] / rates[0])) + 64];
        rightOutput = new float[leftOutput.Length];
        resampler = new StreamingResampler(rates[0], rates[1]);
        highQuality = LibSoxr.Start(rates[0], rates[1], LibSoxr.HighQuality);
        veryHighQuality = LibSoxr.Start(rates[0], rates[1], LibSoxr.VeryHighQuality);
    }

    [GlobalCleanup]
    public void Clean()
    {
        LibSoxr.End(highQuality);
        LibSoxr.End(veryHighQuality);
    }

    [Benchmark(Baseline = true, Description = "libsoxr VHQ")]
    public int VeryHighQuality() => ThroughSoxr(veryHighQuality);

    [Benchmark(Description = "libsoxr HQ")]
    public int HighQuality() => ThroughSoxr(highQuality);

    [Benchmark(Description = "ours")]
    public int Ours()
    {
        resampler.Reset();
        int total = 0;
        for (int start = 0; start < left.Length; start += FramesAtOnce)
        {
            int frames = Math.Min(FramesAtOnce, left.Length - start);
            resampler.Process(
                left.AsSpan(start, frames), right.AsSpan(start, frames), leftOutput, rightOutput, out _, out int produced);
            total += produced;
        }

        return total;
    }

    private int ThroughSoxr(nint state)
    {
        int total = 0;
        for (int start = 0; start < left.Length; start += FramesAtOnce)
        {
            int frames = Math.Min(FramesAtOnce, left.Length - start);
            total += LibSoxr.Process(state, left.AsSpan(start, frames), right.AsSpan(start, frames), leftOutput, rightOutput);
        }

        return total;
    }
}
