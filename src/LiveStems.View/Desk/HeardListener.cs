using LiveStems.Analysis.Spectra;

namespace LiveStems.View.Desk;

/// <summary>
/// A-weighted energy of what goes to the device, both sides added up; takes sound in on one thread, is read by another.
/// </summary>
internal sealed class HeardListener : IPowerFrameSink
{
    private const int Size = 4096;

    private readonly PowerFrames frames;
    private readonly double[] weights;
    private readonly double secondsPerFrame;
    private double energySeconds;
    private double latest;

    public HeardListener(int sampleRate)
    {
        frames = new PowerFrames(Size, SpectrumChannel.Both, this);
        weights = [.. Enumerable.Range(0, frames.Bins).Select(bin => AWeighting.PowerGain((double)bin * sampleRate / Size))];
        secondsPerFrame = (double)frames.HopFrames / sampleRate;
    }

    /// <summary>A-weighted mean square, mean of both sides, times seconds, since it was cleared.</summary>
    public double EnergySeconds => Volatile.Read(ref energySeconds);

    /// <summary>A-weighted mean square of the last 0.1 s, mean of both sides.</summary>
    public double Latest => Volatile.Read(ref latest);

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => frames.Add(left, right);

    /// <summary>Adds what was heard before, in the unit of <see cref="EnergySeconds"/>; on the thread that takes sound in.</summary>
    public void AddEarlier(double earlierEnergySeconds) => Volatile.Write(ref energySeconds, energySeconds + earlierEnergySeconds);

    public void Clear() => Volatile.Write(ref energySeconds, 0);

    void IPowerFrameSink.Take(ReadOnlySpan<float> power, bool isWhole)
    {
        double sum = 0;
        for (int bin = 0; bin < power.Length; bin++)
        {
            sum += weights[bin] * power[bin];
        }

        Volatile.Write(ref latest, sum);
        Volatile.Write(ref energySeconds, energySeconds + sum * secondsPerFrame);
    }
}
