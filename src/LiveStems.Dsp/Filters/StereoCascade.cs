using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// A chain of second-order sections over stereo sound, in double precision, whose coefficients may move without a sound of
/// their own. Sections that are not active cost nothing.
/// </summary>
/// <remarks>
/// Sections have fixed places and run in their order. All sections that move at one time move together
/// (<see cref="StartGlide"/>). The output does not depend on how the sound is cut into calls. After construction nothing
/// allocates. Not for use from two threads.
/// </remarks>
public sealed class StereoCascade
{
    private const int Chunk = 512;

    private readonly StateVariableCoefficients[] from;
    private readonly StateVariableCoefficients[] to;
    private readonly bool[] active;
    private readonly bool[] moving;

    // The two states of each section.
    private readonly Vector128<double>[] first;
    private readonly Vector128<double>[] second;
    private readonly CascadePlan plan;
    private readonly GlidingSections gliding = new();
    private readonly Vector128<double>[] frames = Unmoved.Array<Vector128<double>>(Chunk);
    private bool isPlanned;
    private int version;
    private int glideLength;
    private int glidePosition;

    /// <summary>A cascade with room for a number of sections, none of them active.</summary>
    public StereoCascade(int capacity)
    {
        from = Unmoved.Array<StateVariableCoefficients>(capacity);
        to = Unmoved.Array<StateVariableCoefficients>(capacity);
        Array.Fill(from, StateVariableCoefficients.Neutral);
        Array.Fill(to, StateVariableCoefficients.Neutral);
        active = new bool[capacity];
        moving = new bool[capacity];
        first = Unmoved.Array<Vector128<double>>(capacity);
        second = Unmoved.Array<Vector128<double>>(capacity);
        plan = new CascadePlan(capacity);
    }

    /// <summary>Places for sections.</summary>
    public int Capacity => from.Length;

    /// <summary>Sections that are in place.</summary>
    public int ActiveSections => active.AsSpan().Count(true);

    /// <summary>True when there is a section in a place.</summary>
    public bool IsActive(int section) => active[section];

    /// <summary>True while sections move.</summary>
    public bool IsGliding => glidePosition < glideLength;

    /// <summary>Puts a section in place as from silence, active, with these coefficients at once.</summary>
    public void Set(int section, in StateVariableCoefficients coefficients)
    {
        from[section] = to[section] = coefficients;
        active[section] = true;
        moving[section] = false;
        first[section] = second[section] = default;
        Change();
    }

    /// <summary>Takes a section out: it passes sound unchanged and costs nothing.</summary>
    public void Remove(int section)
    {
        active[section] = moving[section] = false;
        first[section] = second[section] = default;
        Change();
    }

    /// <summary>
    /// Gives an active section its next coefficients; they are reached by the glide that <see cref="StartGlide"/> starts, or
    /// at once if sound follows without one.
    /// </summary>
    public void MoveTo(int section, in StateVariableCoefficients coefficients)
    {
        if (!moving[section])
        {
            ToIntegrators(section);
        }

        from[section] = moving[section] && IsGliding
            ? from[section].Towards(to[section], (double)glidePosition / glideLength)
            : to[section];
        to[section] = coefficients;
        moving[section] = true;
        Change();
    }

    private bool IsAnyMoving()
    {
        bool isAny = false;
        foreach (bool moves in moving)
        {
            isAny |= moves;
        }

        return isAny;
    }

    /// <summary>
    /// Starts the glide of all sections that were given coefficients since the last one, over a number of frames from 1.
    /// A glide under way should have ended: it starts over for sections that have not been given others since.
    /// </summary>
    public void StartGlide(int length)
    {
        if (!IsAnyMoving())
        {
            return;
        }

        glideLength = length;
        glidePosition = 0;
    }

    /// <summary>Changes with every change of the active sections and their coefficients.</summary>
    internal int Version => version;

    /// <summary>Filters stereo sound in place; both channels have the same length.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        int done = 0;
        while (done < left.Length)
        {
            Plan();

            if (plan.Steps.IsEmpty)
            {
                return;
            }

            int count = Math.Min(Chunk, left.Length - done);
            count = IsGliding ? Math.Min(count, Math.Min(GlideTable.Frames, glideLength - glidePosition)) : count;
            Span<Vector128<double>> part = frames.AsSpan(0, count);
            StereoFrames.Gather(left.Slice(done, count), right.Slice(done, count), part);
            RunSections(part);
            StereoFrames.Scatter(part, left.Slice(done, count), right.Slice(done, count));
            done += count;
        }
    }

    /// <summary>
    /// Filters the left sides of two cascades in place, in one go where both stand still at the same coefficients; their
    /// right sides must have heard nothing but silence. The same bits as each cascade alone.
    /// </summary>
    public void ProcessLeftWith(StereoCascade other, Span<float> left, Span<float> otherLeft, Span<float> silence)
    {
        if (!IsLike(other))
        {
            Process(left, silence);
            other.Process(otherLeft, silence);
            return;
        }

        for (int i = 0; i < first.Length; i++)
        {
            first[i] = first[i].WithElement(1, other.first[i].ToScalar());
            second[i] = second[i].WithElement(1, other.second[i].ToScalar());
        }

        Process(left, otherLeft);
        for (int i = 0; i < first.Length; i++)
        {
            other.first[i] = Vector128.CreateScalar(first[i].GetElement(1));
            other.second[i] = Vector128.CreateScalar(second[i].GetElement(1));
            first[i] = Vector128.CreateScalar(first[i].ToScalar());
            second[i] = Vector128.CreateScalar(second[i].ToScalar());
        }
    }

    /// <summary>State as if from silence; sections keep their place and arrive at their coefficients.</summary>
    public void Reset()
    {
        Array.Clear(first);
        Array.Clear(second);
        EndGlide();
    }

    /// <summary>Sets state below 1e-20 to zero, so that a decaying tail never runs on subnormal numbers.</summary>
    public void FlushTinyState()
    {
        for (int i = 0; i < first.Length; i++)
        {
            first[i] = StereoFrames.WithoutTiny(first[i]);
            second[i] = StereoFrames.WithoutTiny(second[i]);
        }
    }

    /// <summary>Arrives where a glide has ended, and returns whether one goes on.</summary>
    internal bool Settle()
    {
        Plan();
        return IsGliding;
    }

    /// <summary>The active section that runs as number <paramref name="order"/>, from 0, or −1; after <see cref="Settle"/>.</summary>
    internal int SectionAt(int order) => plan.SectionAt(order);

    /// <summary>The coefficients of a section that stands still, in the order of <see cref="GroupKernels"/>.</summary>
    internal void WriteCoefficients(int section, Span<double> values) => StageCoefficients.Write(to[section], values);

    /// <summary>The states of a section that stands still.</summary>
    internal (Vector128<double> R, Vector128<double> S) StateOf(int section) => (first[section], second[section]);

    /// <summary>Sets the states of a section that stands still.</summary>
    internal void SetState(int section, Vector128<double> r, Vector128<double> s) => (first[section], second[section]) = (r, s);

    private bool IsLike(StereoCascade other) =>
        !Settle() && !other.Settle() && active.AsSpan().SequenceEqual(other.active) && to.AsSpan().SequenceEqual(other.to);

    private void Plan()
    {
        if (!isPlanned)
        {
            ArriveUnlessGliding();
            plan.Compile(active, moving, to);
            isPlanned = true;
        }
    }

    private void Change()
    {
        isPlanned = false;
        version++;
    }

    private void RunSections(Span<Vector128<double>> part)
    {
        foreach (CascadePlan.Step step in plan.Steps)
        {
            if (step.Glides)
            {
                gliding.Run(part, plan.Places(step), new(from, to, glidePosition, glideLength), first, second);
            }
            else
            {
                plan.RunStill(step, part, first, second);
            }
        }

        if (IsGliding)
        {
            glidePosition += part.Length;
            ArriveUnlessGliding();
        }
    }

    private void ArriveUnlessGliding()
    {
        if (!IsGliding)
        {
            EndGlide();
        }
    }

    private void EndGlide()
    {
        glideLength = glidePosition = 0;
        for (int i = 0; i < moving.Length; i++)
        {
            if (moving[i])
            {
                FromIntegrators(i);
                moving[i] = false;
                Change();
            }
        }
    }

    // Sections that stand still keep their states in the form that StageCoefficients describes, sections that move in
    // that of the integrators themselves, which means the same whatever the coefficients are.
    private void ToIntegrators(int section)
    {
        (Vector128<double> r, Vector128<double> s) = (first[section], second[section]);
        first[section] = (r - s) * (0.5 * to[section].G);
        second[section] = (r + s) * -0.5;
    }

    private void FromIntegrators(int section)
    {
        Vector128<double> band = first[section] / to[section].G;
        Vector128<double> low = second[section];
        first[section] = band - low;
        second[section] = -(band + low);
    }
}
