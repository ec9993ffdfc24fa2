namespace LiveStems.View.Window;

/// <summary>How long frames took, as a histogram in steps of 0.25 ms, the last for all above 100 ms.</summary>
internal sealed class FrameTimes
{
    private const int Steps = 400;
    private const double StepSeconds = 0.00025;

    private readonly long[] counts = new long[Steps + 1];
    private double firstAt = double.NaN;
    private double lastAt;

    /// <summary>Pictures shown.</summary>
    public long Count { get; private set; }

    /// <summary>Pictures a second, over the whole time.</summary>
    public double PerSecond => Count > 1 ? (Count - 1) / (lastAt - firstAt) : 0;

    /// <summary>A picture was shown.</summary>
    /// <param name="at">When, in seconds.</param>
    /// <param name="workSeconds">Time that drawing it took.</param>
    public void Add(double at, double workSeconds)
    {
        firstAt = double.IsNaN(firstAt) ? at : firstAt;
        lastAt = at;
        Count++;
        counts[(int)Math.Clamp(workSeconds / StepSeconds, 0, Steps)]++;
    }

    /// <summary>The time that a share of the frames, 0 to 1, did not exceed, in seconds.</summary>
    public double WorkAt(double share)
    {
        long wanted = (long)Math.Ceiling(share * Count);
        long sum = 0;
        for (int i = 0; i <= Steps; i++)
        {
            sum += counts[i];
            if (sum >= wanted && sum > 0)
            {
                return (i + 1) * StepSeconds;
            }
        }

        return 0;
    }
}
