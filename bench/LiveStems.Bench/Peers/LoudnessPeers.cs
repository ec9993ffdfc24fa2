using System.Runtime.InteropServices;
using BenchmarkDotNet.Attributes;
using LiveStems.Dsp.Loudness;

namespace LiveStems.Bench.Peers;

/// <summary>
/// A minute of stereo sound in memory, measured for integrated loudness, loudness range and true peak. Each reads the
/// layout it works on: libebur128 interleaved, ours planar.
/// </summary>
[MemoryDiagnoser]
public class LoudnessPeers
{
    private const double Seconds = 60;
    private const int FramesAtOnce = 4096;

    private float[] left = [];
    private float[] right = [];
    private float[] interleaved = [];
    private ProgrammeMeter meter = new(48_000);

    [Params(48_000, 96_000)]
    public int SampleRate { get; set; }

    [GlobalSetup]
    public void Prepare()
    {
        left = ProgrammeSamples.PinkNoise(SampleRate, Seconds, 1);
        right = ProgrammeSamples.PinkNoise(SampleRate, Seconds, 2);
        interleaved = new float[2 * left.Length];
        for (int n = 0; n < left.Length; n++)
        {
            interleaved[2 * n] = left[n];
            interleaved[2 * n + 1] = right[n];
        }

        meter = new ProgrammeMeter(SampleRate);
    }

    [Benchmark(Baseline = true, Description = "libebur128")]
    public double Libebur128()
    {
        int mode = LibEbur128.Integrated | LibEbur128.Range | LibEbur128.TruePeak;
        nint state = LibEbur128.Start(2, new CULong((uint)SampleRate), mode);
        for (int start = 0; start < left.Length; start += FramesAtOnce)
        {
            int frames = Math.Min(FramesAtOnce, left.Length - start);
            _ = LibEbur128.Add(state, interleaved.AsSpan(2 * start, 2 * frames), (nuint)frames);
        }

        _ = LibEbur128.ReadIntegrated(state, out double lufs);
        _ = LibEbur128.ReadRange(state, out double lu);
        _ = LibEbur128.ReadTruePeak(state, 0, out double peak);
        LibEbur128.End(ref state);
        return lufs + lu + peak;
    }

    [Benchmark(Description = "ours")]
    public double Ours()
    {
        meter.Reset();
        for (int start = 0; start < left.Length; start += FramesAtOnce)
        {
            int frames = Math.Min(FramesAtOnce, left.Length - start);
            meter.Add(left.AsSpan(start, frames), right.AsSpan(start, frames));
        }

        LoudnessReport report = meter.Finish();
        return report.IntegratedLufs + report.LoudnessRangeLu + report.TruePeakDbtp;
    }
}
