using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>The active sections of a cascade in the order they run, those that stand still packed for the kernels.</summary>
internal sealed class CascadePlan(int capacity)
{
    private readonly Step[] steps = new Step[capacity];
    private readonly StageCoefficients[] stages = new StageCoefficients[capacity];
    private readonly int[] sections = new int[capacity + 1];
    private int stepCount;

    /// <summary>The steps, in order.</summary>
    public ReadOnlySpan<Step> Steps => steps.AsSpan(0, stepCount);

    /// <summary>Makes the plan anew.</summary>
    public void Compile(ReadOnlySpan<bool> active, ReadOnlySpan<bool> moving, ReadOnlySpan<StateVariableCoefficients> coefficients)
    {
        stepCount = 0;
        int count = 0;
        for (int i = 0; i < active.Length; i++)
        {
            if (active[i])
            {
                sections[count++] = i;
            }
        }

        int next = 0;
        int stage = 0;
        while (next < count)
        {
            if (moving[sections[next]])
            {
                steps[stepCount++] = new Step(next++, 0, stage, 0);
                continue;
            }

            int length = RunLength(sections.AsSpan(next, count - next), moving);
            int pairs = Math.Max(1, length / 2);
            for (int pair = 0; pair < pairs; pair++)
            {
                int first = sections[next + 2 * pair];
                int second = length == 1 ? first : sections[next + 2 * pair + 1];
                stages[stage + pair] = new StageCoefficients(coefficients[first], coefficients[second]);
            }

            steps[stepCount++] = new Step(next, length, stage, pairs);
            stage += pairs;
            next += length;
        }
    }

    /// <summary>The section of a step that glides.</summary>
    public int Gliding(Step step) => sections[step.First];

    /// <summary>Runs a step of sections that stand still.</summary>
    public void RunStill(Step step, Span<Vector128<double>> frames, Span<Vector128<double>> band, Span<Vector128<double>> low)
    {
        ReadOnlySpan<int> places = sections.AsSpan(step.First, step.Still);
        if (step.Still == 1)
        {
            CascadeKernels.Single(frames, stages[step.Stage], ref band[places[0]], ref low[places[0]]);
            return;
        }

        Span<Vector256<double>> bandPairs = stackalloc Vector256<double>[CascadeKernels.MaximumPairs];
        Span<Vector256<double>> lowPairs = stackalloc Vector256<double>[CascadeKernels.MaximumPairs];
        for (int pair = 0; pair < step.Pairs; pair++)
        {
            (int first, int second) = (places[2 * pair], places[2 * pair + 1]);
            bandPairs[pair] = Vector256.Create(band[first], band[second]);
            lowPairs[pair] = Vector256.Create(low[first], low[second]);
        }

        CascadeKernels.Pairs(frames, stages.AsSpan(step.Stage, step.Pairs), bandPairs, lowPairs);
        for (int pair = 0; pair < step.Pairs; pair++)
        {
            (int first, int second) = (places[2 * pair], places[2 * pair + 1]);
            (band[first], band[second]) = (bandPairs[pair].GetLower(), bandPairs[pair].GetUpper());
            (low[first], low[second]) = (lowPairs[pair].GetLower(), lowPairs[pair].GetUpper());
        }
    }

    // The longest of 8, 4, 2 and 1 sections from the start that stand still.
    private static int RunLength(ReadOnlySpan<int> next, ReadOnlySpan<bool> moving)
    {
        int still = 0;
        while (still < next.Length && still < 2 * CascadeKernels.MaximumPairs && !moving[next[still]])
        {
            still++;
        }

        return still >= 8 ? 8 : still >= 4 ? 4 : still >= 2 ? 2 : 1;
    }

    /// <summary>A stretch of the order: one section that glides, or sections that stand still.</summary>
    /// <param name="First">Where it begins in the order.</param>
    /// <param name="Still">Sections that stand still; 0 for one that glides.</param>
    /// <param name="Stage">Its first packed pair.</param>
    /// <param name="Pairs">Its packed pairs.</param>
    public readonly record struct Step(int First, int Still, int Stage, int Pairs);
}
