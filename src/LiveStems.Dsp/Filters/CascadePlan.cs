using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>The active sections of a cascade in the order they run, those that stand still packed for the kernels.</summary>
internal sealed class CascadePlan(int capacity)
{
    private readonly Step[] steps = Unmoved.Array<Step>(capacity);
    private readonly AlignedMemory<StageCoefficients> stages = new(capacity);
    private readonly int[] sections = new int[capacity];
    private int stepCount;
    private int sectionCount;

    /// <summary>The steps, in order.</summary>
    public ReadOnlySpan<Step> Steps => steps.AsSpan(0, stepCount);

    /// <summary>The place of the section that runs as number <paramref name="order"/>, from 0, or −1.</summary>
    public int SectionAt(int order) => order < sectionCount ? sections[order] : -1;

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

        sectionCount = count;
        int next = 0;
        int stage = 0;
        while (next < count)
        {
            bool glides = moving[sections[next]];
            int run = RunOf(sections.AsSpan(next, count - next), moving, glides);
            steps[stepCount++] = new Step(next, run, glides, stage);
            for (int i = 0; i < run && !glides; i += 2)
            {
                ref readonly StateVariableCoefficients first = ref coefficients[sections[next + i]];
                stages.Span[stage++] = i + 1 < run ? new(first, coefficients[sections[next + i + 1]]) : new(first);
            }

            next += run;
        }
    }

    /// <summary>The places of a step's sections.</summary>
    public ReadOnlySpan<int> Places(Step step) => sections.AsSpan(step.First, step.Count);

    /// <summary>Runs a step of sections that stand still.</summary>
    public void RunStill(Step step, Span<Vector128<double>> frames, Span<Vector128<double>> r, Span<Vector128<double>> s)
    {
        ReadOnlySpan<int> places = Places(step);
        int pairs = (step.Count + 1) / 2;
        Span<Vector256<double>> rPairs = stackalloc Vector256<double>[CascadeKernels.MaximumPairs];
        Span<Vector256<double>> sPairs = stackalloc Vector256<double>[CascadeKernels.MaximumPairs];
        for (int i = 0; i < places.Length; i++)
        {
            Put(rPairs, i, r[places[i]]);
            Put(sPairs, i, s[places[i]]);
        }

        CascadeKernels.Run(frames, stages.Span.Slice(step.Stage, pairs), rPairs[..pairs], sPairs[..pairs]);
        for (int i = 0; i < places.Length; i++)
        {
            r[places[i]] = Take(rPairs, i);
            s[places[i]] = Take(sPairs, i);
        }
    }

    private static void Put(Span<Vector256<double>> pairs, int i, Vector128<double> value) =>
        pairs[i / 2] = i % 2 == 0 ? pairs[i / 2].WithLower(value) : pairs[i / 2].WithUpper(value);

    private static Vector128<double> Take(ReadOnlySpan<Vector256<double>> pairs, int i) =>
        i % 2 == 0 ? pairs[i / 2].GetLower() : pairs[i / 2].GetUpper();

    // How many sections from the start all glide or all stand still, as far as one call goes.
    private static int RunOf(ReadOnlySpan<int> next, ReadOnlySpan<bool> moving, bool glides)
    {
        int most = Math.Min(next.Length, glides ? GlidingSections.AtOnce : 2 * CascadeKernels.MaximumPairs);
        int run = 1;
        while (run < most && moving[next[run]] == glides)
        {
            run++;
        }

        return run;
    }

    /// <summary>A stretch of the order: sections that glide, or sections that stand still.</summary>
    /// <param name="First">Where it begins in the order.</param>
    /// <param name="Count">Its sections.</param>
    /// <param name="Glides">Whether they glide.</param>
    /// <param name="Stage">Its first packed pair, when they stand still.</param>
    public readonly record struct Step(int First, int Count, bool Glides, int Stage);
}
