using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Analysis.Vetting;

/// <summary>Every format of the contract can be prepared for.</summary>
internal static class FormatChecks
{
    private static readonly (int Rate, int Longest)[] Tried = [(8_000, 64), (44_100, 1), (48_000, 8192), (96_000, 2048), (192_000, 512), (384_000, 256)];

    public static VettingFinding? Formats(Func<Processor> make, VettingSituation situation)
    {
        foreach ((int rate, int longest) in Tried)
        {
            (float[] left, float[] right) = VettingRun.Noise(256, rate);
            VettingRun run = new(make, longest, situation, sampleRate: rate);
            int latency = run.Processor.LatencyFrames;
            if (!DeclaredLatency.IsWithin(latency, new ProcessingFormat(rate, longest)))
            {
                return new VettingFinding("formats", true, $"{DeclaredLatency.FaultOf(latency)} (at {rate} Hz{situation.Words})");
            }

            if (!VettingRun.IsFinite(run.Run(left, right, longest)))
            {
                return new VettingFinding("formats", true, $"gives what is no number at {rate} Hz{situation.Words}");
            }
        }

        return null;
    }
}
