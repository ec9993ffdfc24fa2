using System.Runtime.Intrinsics;

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
    private const int Chunk = 128;

    private readonly StateVariableCoefficients[] from;
    private readonly StateVariableCoefficients[] to;
    private readonly bool[] active;
    private readonly bool[] moving;
    private readonly Vector128<double>[] band;
    private readonly Vector128<double>[] low;
    private readonly CascadePlan plan;
    private readonly Vector128<double>[] frames = new Vector128<double>[Chunk];
    private bool isPlanned;
    private int glideLength;
    private int glidePosition;

    /// <summary>A cascade with room for a number of sections, none of them active.</summary>
    public StereoCascade(int capacity)
    {
        from = new StateVariableCoefficients[capacity];
        to = new StateVariableCoefficients[capacity];
        Array.Fill(from, StateVariableCoefficients.Neutral);
        Array.Fill(to, StateVariableCoefficients.Neutral);
        active = new bool[capacity];
        moving = new bool[capacity];
        band = new Vector128<double>[capacity];
        low = new Vector128<double>[capacity];
        plan = new CascadePlan(capacity);
    }

    /// <summary>Places for sections.</summary>
    public int Capacity => from.Length;

    /// <summary>True while sections move.</summary>
    public bool IsGliding => glidePosition < glideLength;

    /// <summary>Puts a section in place as from silence, active, with these coefficients at once.</summary>
    public void Set(int section, in StateVariableCoefficients coefficients)
    {
        from[section] = to[section] = coefficients;
        active[section] = true;
        moving[section] = false;
        band[section] = low[section] = default;
        isPlanned = false;
    }

    /// <summary>Takes a section out: it passes sound unchanged and costs nothing.</summary>
    public void Remove(int section)
    {
        active[section] = moving[section] = false;
        band[section] = low[section] = default;
        isPlanned = false;
    }

    /// <summary>
    /// Gives an active section its next coefficients; they are reached by the glide that <see cref="StartGlide"/> starts,
    /// which must follow before any sound does.
    /// </summary>
    public void MoveTo(int section, in StateVariableCoefficients coefficients)
    {
        if (!moving[section])
        {
            // Sections that stand still keep this state multiplied by their decay, which saves a product a frame.
            band[section] /= to[section].Decay;
        }

        from[section] = to[section];
        to[section] = coefficients;
        moving[section] = true;
        isPlanned = false;
    }

    /// <summary>
    /// Starts the glide of all sections that were given coefficients since the last one, over a number of frames from 1.
    /// A glide under way must have ended: sections that are given coefficients before it has start from where it was going.
    /// </summary>
    public void StartGlide(int length)
    {
        glideLength = length;
        glidePosition = 0;
    }

    /// <summary>Filters stereo sound in place; both channels have the same length.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        int done = 0;
        while (done < left.Length)
        {
            int count = Math.Min(Chunk, left.Length - done);
            count = IsGliding ? Math.Min(count, glideLength - glidePosition) : count;
            Span<Vector128<double>> part = frames.AsSpan(0, count);
            StereoFrames.Gather(left.Slice(done, count), right.Slice(done, count), part);
            RunSections(part);
            StereoFrames.Scatter(part, left.Slice(done, count), right.Slice(done, count));
            done += count;
        }
    }

    /// <summary>State as if from silence; sections keep their place and arrive at their coefficients.</summary>
    public void Reset()
    {
        Array.Clear(band);
        Array.Clear(low);
        EndGlide();
    }

    /// <summary>Sets state below 1e-20 to zero, so that a decaying tail never runs on subnormal numbers.</summary>
    public void FlushTinyState()
    {
        for (int i = 0; i < band.Length; i++)
        {
            band[i] = StereoFrames.WithoutTiny(band[i]);
            low[i] = StereoFrames.WithoutTiny(low[i]);
        }
    }

    private void RunSections(Span<Vector128<double>> part)
    {
        if (!isPlanned)
        {
            plan.Compile(active, moving, to);
            isPlanned = true;
        }

        foreach (CascadePlan.Step step in plan.Steps)
        {
            if (step.Still > 0)
            {
                plan.RunStill(step, part, band, low);
                continue;
            }

            int i = plan.Gliding(step);
            GlidingSection.Run(part, from[i], to[i], glidePosition, glideLength, ref band[i], ref low[i]);
        }

        if (IsGliding)
        {
            glidePosition += part.Length;
            if (!IsGliding)
            {
                EndGlide();
            }
        }
    }

    private void EndGlide()
    {
        glideLength = glidePosition = 0;
        for (int i = 0; i < moving.Length; i++)
        {
            if (moving[i])
            {
                band[i] *= to[i].Decay;
                moving[i] = false;
                isPlanned = false;
            }
        }
    }
}
