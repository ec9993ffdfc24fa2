using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// True peaks above full scale with their places, and how often the sound comes close to its own largest sample, which
/// tells of a limiter.
/// </summary>
internal sealed class PeakScan
{
    private const int BlockFrames = 1024;
    private const double NearDb = 0.1;

    private static readonly double Near = Decibels.ToAmplitude(-NearDb);

    private readonly TruePeakMeter meter = new();
    private readonly EventList overs;
    private double largestSample;
    private int filled;
    private long blockStart;

    public PeakScan(EventList overs) => this.overs = overs;

    /// <summary>Largest true peak in dBTP.</summary>
    public double TruePeakDbtp { get; private set; } = double.NegativeInfinity;

    /// <summary>Largest sample in dBFS.</summary>
    public double SamplePeakDbfs => Decibels.FromAmplitude(largestSample);

    /// <summary>Blocks of 1024 frames whose largest sample is within 0.1 dB of the largest of all.</summary>
    public long BlocksAtPeak { get; private set; }

    /// <summary>Blocks whose largest sample is within 6 dB of it.</summary>
    public long LoudBlocks { get; private set; }

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        while (left.Length > 0)
        {
            int count = Math.Min(left.Length, BlockFrames - filled);
            meter.Add(left[..count], right[..count]);
            filled += count;
            left = left[count..];
            right = right[count..];
            if (filled == BlockFrames)
            {
                EndBlock();
            }
        }
    }

    public void Finish()
    {
        meter.Finish();
        EndBlock();
    }

    private void EndBlock()
    {
        double sample = Decibels.ToAmplitude(meter.SamplePeakDbfs);
        TruePeakDbtp = Math.Max(TruePeakDbtp, meter.TruePeakDbtp);
        if (meter.TruePeakDbtp > 0)
        {
            overs.Add(new SoundEvent(blockStart, filled, meter.RightTruePeakDbtp > meter.LeftTruePeakDbtp ? 1 : 0, meter.TruePeakDbtp));
        }

        if (sample > largestSample)
        {
            // What was near the old peak may still be near the new one, or not.
            BlocksAtPeak = largestSample >= sample * Near ? BlocksAtPeak : 0;
            LoudBlocks = largestSample >= sample / 2 ? LoudBlocks : 0;
            largestSample = sample;
        }

        BlocksAtPeak += sample > 0 && sample >= largestSample * Near ? 1 : 0;
        LoudBlocks += sample > 0 && sample >= largestSample / 2 ? 1 : 0;
        meter.ClearPeaks();
        blockStart += filled;
        filled = 0;
    }
}
