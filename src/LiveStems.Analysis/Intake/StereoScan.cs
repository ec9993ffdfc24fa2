using LiveStems.Analysis.Spectra;
using LiveStems.Dsp;
using LiveStems.Dsp.Simd;

namespace LiveStems.Analysis.Intake;

/// <summary>Power, offset and correlation of both sides, over the whole file and in windows; the noise floor.</summary>
internal sealed class StereoScan(int sampleRate)
{
    private const double WindowSeconds = 0.05;
    private const double FloorShare = 0.05;

    private readonly int windowFrames = Math.Max((int)(WindowSeconds * sampleRate), 1);
    private readonly LevelHistogram levels = new();
    private double sumLeft;
    private double sumRight;
    private double windowEnergy;
    private int windowFilled;
    private long windowStart;

    public double EnergyLeft { get; private set; }

    public double EnergyRight { get; private set; }

    public double EnergyBoth { get; private set; }

    public long Frames { get; private set; }

    /// <summary>Largest difference between the sides.</summary>
    public float LargestDifference { get; private set; }

    /// <summary>First frame of the first window that is not silent, −1 when there is none.</summary>
    public long FirstSound { get; private set; } = -1;

    /// <summary>Frame after the last window that is not silent.</summary>
    public long EndOfSound { get; private set; }

    public double OffsetLeft => Frames == 0 ? 0 : sumLeft / Frames;

    public double OffsetRight => Frames == 0 ? 0 : sumRight / Frames;

    /// <summary>Σ LR / √(ΣL² ΣR²); NaN when a side is silent.</summary>
    public double Correlation => EnergyBoth / Math.Sqrt(EnergyLeft * EnergyRight);

    /// <summary>The level that the quietest twentieth of the windows with any sound lies below, in dBFS (AES17).</summary>
    public double FloorDbfs => levels.Percentile(FloorShare);

    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        while (left.Length > 0)
        {
            int count = Math.Min(left.Length, windowFrames - windowFilled);
            AddWithinWindow(left[..count], right[..count]);
            left = left[count..];
            right = right[count..];
        }
    }

    private void AddWithinWindow(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        double energyLeft = Products.Sum(left, left), energyRight = Products.Sum(right, right);
        EnergyLeft += energyLeft;
        EnergyRight += energyRight;
        EnergyBoth += Products.Sum(left, right);
        sumLeft += Products.Sum(left);
        sumRight += Products.Sum(right);
        for (int n = 0; n < left.Length; n++)
        {
            LargestDifference = MathF.Max(LargestDifference, MathF.Abs(left[n] - right[n]));
        }

        if (energyLeft + energyRight > 0)
        {
            FirstSound = FirstSound < 0 ? windowStart : FirstSound;
            EndOfSound = Frames + left.Length;
        }

        windowEnergy += energyLeft + energyRight;
        Frames += left.Length;
        windowFilled += left.Length;
        if (windowFilled == windowFrames)
        {
            if (windowEnergy > 0)
            {
                levels.Add(LevelHistogram.ToDbfs(windowEnergy / (2.0 * windowFrames)));
            }

            windowEnergy = 0;
            windowFilled = 0;
            windowStart = Frames;
        }
    }
}
