using LiveStems.Dsp;

namespace LiveStems.View.Desk;

/// <summary>A peak that rises at once and falls back evenly in decibels.</summary>
public sealed class FallingPeak
{
    /// <summary>How fast it falls: 20 dB in 1.7 s, the return time of IEC 60268-18 (from memory).</summary>
    public const double FallDbPerSecond = 20 / 1.7;

    private const double FloorDb = -120;

    /// <summary>The level in dBFS; −∞ below −120.</summary>
    public double Db { get; private set; } = double.NegativeInfinity;

    /// <summary>Takes in the largest magnitude of the last so many seconds.</summary>
    public void Add(double magnitude, double seconds)
    {
        double fallen = Db - FallDbPerSecond * Math.Max(0, seconds);
        double now = Math.Max(Decibels.FromAmplitude(magnitude), fallen);
        Db = now < FloorDb ? double.NegativeInfinity : now;
    }

    /// <summary>Down at once.</summary>
    public void Reset() => Db = double.NegativeInfinity;
}
