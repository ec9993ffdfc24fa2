using System.Numerics;
using LiveStems.Analysis.Hearing;
using LiveStems.Analysis.Spectra;

namespace LiveStems.Analysis.Masking;

/// <summary>The excitation of one stem, a frame at a time; frames wait in a queue until every stem has delivered its own.</summary>
internal sealed class StemBands : IPowerFrameSink
{
    private const double FrameSeconds = 0.085;
    private const int Every = 2;

    private readonly PowerFrames frames;
    private readonly ExcitationPattern pattern;
    private readonly int[] edges;
    private readonly double[] power;
    private readonly Queue<double[]> waiting = new();
    private readonly double scale;
    private long frame;

    public StemBands(int sampleRate, int bands, double listeningLevelDb)
    {
        int size = Math.Clamp((int)BitOperations.RoundUpToPowerOf2((uint)(FrameSeconds * sampleRate * 0.71)), 64, 65_536);
        frames = new PowerFrames(size, SpectrumChannel.Both, this);
        pattern = new ExcitationPattern(bands);
        power = new double[bands];
        scale = Math.Pow(10, (listeningLevelDb - Trouble.TroubleSettings.ReferenceDbfs) / 10);
        edges = [.. Enumerable.Range(0, bands + 1).Select(edge =>
            Math.Min(frames.Bins, (int)Math.Round(CamScale.ToHz(ExcitationPattern.FirstCam + edge - 0.5) * size / sampleRate)))];
        HopSeconds = (double)Every * frames.HopFrames / sampleRate;
        FirstSeconds = (double)(frames.HopFrames - size / 2) / sampleRate;
    }

    public double HopSeconds { get; }

    public double FirstSeconds { get; }

    public bool IsReady => waiting.Count > 0;

    public double[] Take() => waiting.Dequeue();

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    void IPowerFrameSink.Take(ReadOnlySpan<float> bins, bool isWhole)
    {
        if (frame++ % Every != 0)
        {
            return;
        }

        for (int band = 0; band < power.Length; band++)
        {
            double sum = 0;
            for (int bin = edges[band]; bin < Math.Max(edges[band + 1], edges[band] + 1) && bin < bins.Length; bin++)
            {
                sum += bins[bin];
            }

            power[band] = sum * scale;
        }

        double[] excitation = new double[power.Length];
        pattern.Compute(power, excitation);
        waiting.Enqueue(excitation);
    }
}
