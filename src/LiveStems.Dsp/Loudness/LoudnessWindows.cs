namespace LiveStems.Dsp.Loudness;

/// <summary>
/// The sliding windows of EBU Tech 3341: 0.4 s (momentary) and 3 s (short-term), moved in steps of 10 ms.
/// </summary>
/// <remarks>
/// Each window is summed afresh from the energies of tenths of a second, never by adding what enters and subtracting
/// what leaves: silence after a loud passage reads as silence, and nothing accumulates over hours.
/// </remarks>
internal sealed class LoudnessWindows
{
    /// <summary>Steps of 10 ms in the momentary window.</summary>
    public const int MomentarySteps = 40;

    /// <summary>Steps of 10 ms in the short-term window.</summary>
    public const int ShortTermSteps = 300;

    private const int TenthSteps = 10;

    private readonly double[] steps = new double[TenthSteps];
    private readonly double[] tenths = new double[ShortTermSteps];
    private int position;

    /// <summary>Energy of the last 0.4 s.</summary>
    public double MomentaryEnergy { get; private set; }

    /// <summary>Energy of the last 3 s.</summary>
    public double ShortTermEnergy { get; private set; }

    /// <summary>Moves both windows by 10 ms.</summary>
    public void Add(double stepEnergy)
    {
        steps[position % TenthSteps] = stepEnergy;
        double tenth = 0;
        foreach (double energy in steps)
        {
            tenth += energy;
        }

        tenths[position] = tenth;
        MomentaryEnergy = SumOfTenths(MomentarySteps);
        ShortTermEnergy = SumOfTenths(ShortTermSteps);
        position = (position + 1) % ShortTermSteps;
    }

    /// <summary>As if from silence.</summary>
    public void Reset()
    {
        Array.Clear(steps);
        Array.Clear(tenths);
        position = 0;
        MomentaryEnergy = ShortTermEnergy = 0;
    }

    private double SumOfTenths(int windowSteps)
    {
        double sum = 0;
        int index = position;
        for (int back = 0; back < windowSteps; back += TenthSteps)
        {
            sum += tenths[index];
            index -= TenthSteps;
            index += index < 0 ? ShortTermSteps : 0;
        }

        return sum;
    }
}
