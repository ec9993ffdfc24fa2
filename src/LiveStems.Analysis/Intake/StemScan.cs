using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Intake;

/// <summary>Everything the check looks for within one file, in one pass; memory does not grow with its length.</summary>
internal sealed class StemScan
{
    private const double EdgeSeconds = 0.01;

    private readonly AudioFileInfo info;
    private readonly EventList dropouts = new();
    private readonly EventList clicks = new();
    private readonly EventList clipping = new();
    private readonly EventList overs = new();
    private readonly DropoutScan[] dropoutScans;
    private readonly ClickScan[] clickScans;
    private readonly ClippingScan[] clippingScans;
    private readonly DepthScan depth = new();
    private readonly StereoScan stereo;
    private readonly PeakScan peaks;
    private readonly LoudnessMeter loudness;
    private readonly long edgeFrames;
    private readonly float[] lastFrames;
    private double startEnergy;
    private long frames;

    public StemScan(AudioFileInfo info)
    {
        this.info = info;
        int channels = info.Channels;
        dropoutScans = [.. Enumerable.Range(0, channels).Select(channel => new DropoutScan(channel, dropouts))];
        clickScans = [.. Enumerable.Range(0, channels).Select(channel => new ClickScan(channel, info.SampleRate, clicks))];
        clippingScans = [.. Enumerable.Range(0, channels).Select(channel => new ClippingScan(channel, clipping))];
        stereo = new StereoScan(info.SampleRate);
        peaks = new PeakScan(overs);
        loudness = new LoudnessMeter(info.SampleRate);
        edgeFrames = Math.Max((long)(EdgeSeconds * info.SampleRate), 1);
        lastFrames = new float[edgeFrames];
    }

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        for (int channel = 0; channel < dropoutScans.Length; channel++)
        {
            ReadOnlySpan<float> samples = channel == 0 ? left : right;
            dropoutScans[channel].Add(samples, frames);
            clippingScans[channel].Add(samples, frames);
            clickScans[channel].Add(samples);
            depth.Add(samples);
        }

        stereo.Add(left, right);
        peaks.Add(left, right);
        loudness.Add(left, right);
        Edges(left, right);
        frames += left.Length;
    }

    public StemFacts Finish()
    {
        for (int channel = 0; channel < dropoutScans.Length; channel++)
        {
            dropoutScans[channel].Finish();
            clippingScans[channel].Finish(frames);
            clickScans[channel].Finish();
        }

        peaks.Finish();
        return new StemFacts(
            info,
            new SidePair(Level(stereo.EnergyLeft), Level(stereo.EnergyRight)),
            new SidePair(stereo.OffsetLeft, stereo.OffsetRight),
            stereo.Correlation,
            info.Channels == 2 && stereo.LargestDifference == 0,
            stereo.FloorDbfs,
            stereo.FirstSound < 0 ? null : (double)stereo.FirstSound / info.SampleRate,
            stereo.FirstSound < 0 ? null : (double)stereo.EndOfSound / info.SampleRate,
            Level(startEnergy / 2, edgeFrames),
            Level(lastFrames.Sum(energy => (double)energy) / 2, edgeFrames),
            loudness.IntegratedLufs,
            peaks.TruePeakDbtp,
            peaks.SamplePeakDbfs,
            peaks.LoudBlocks == 0 ? 0 : (double)peaks.BlocksAtPeak / peaks.LoudBlocks,
            peaks.BlocksAtPeak,
            clippingScans.Sum(scan => scan.FlatTops),
            depth.IsFiner ? null : depth.Bits,
            dropouts,
            clicks,
            clipping,
            overs);
    }

    private double Level(double energy, long over = 0) => Spectra.LevelHistogram.ToDbfs(energy / Math.Max(over == 0 ? frames : over, 1));

    // The energy of the file's first and last hundredth of a second.
    private void Edges(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        int place = (int)(frames % edgeFrames);
        for (int n = Math.Max(0, frames == 0 ? 0 : left.Length - lastFrames.Length); n < left.Length; n++)
        {
            float energy = left[n] * left[n] + right[n] * right[n];
            startEnergy += frames + n < edgeFrames ? energy : 0;
            lastFrames[(place + n) % lastFrames.Length] = energy;
        }
    }
}
