namespace LiveStems.Analysis.Parallels;

/// <summary>The energy of a stereo sound in steps of a millisecond.</summary>
internal sealed class EnergyCurve(int sampleRate)
{
    /// <summary>Steps a second.</summary>
    public const int StepsPerSecond = 1000;

    private readonly List<double> steps = [];
    private double energy;
    private long frame;

    /// <summary>Energy of every complete step, sum of squares.</summary>
    public IReadOnlyList<double> Steps => steps;

    /// <summary>Adds sound.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        for (int i = 0; i < left.Length; i++)
        {
            energy += (double)left[i] * left[i] + (double)right[i] * right[i];
            frame++;
            if (frame * StepsPerSecond / sampleRate > steps.Count)
            {
                steps.Add(energy);
                energy = 0;
            }
        }
    }

    /// <summary>Energy from a step up to but without another; steps beyond the end hold none.</summary>
    public double Sum(int from, int to)
    {
        double sum = 0;
        for (int i = Math.Max(0, from); i < Math.Min(to, steps.Count); i++)
        {
            sum += steps[i];
        }

        return sum;
    }
}
