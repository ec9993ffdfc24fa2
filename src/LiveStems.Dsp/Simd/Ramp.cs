using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Simd;

/// <summary>
/// A value that moves evenly over a control interval, as a function of the frame's place in it, so that it does not
/// depend on where blocks begin.
/// </summary>
public readonly struct Ramp
{
    private readonly float step;

    /// <summary>A value that stands still.</summary>
    public Ramp(float value)
        : this(value, value, 0)
    {
    }

    private Ramp(float from, float to, float step)
    {
        Start = from;
        Target = to;
        this.step = step;
    }

    /// <summary>True when the value does not move.</summary>
    public bool StandsStill => step == 0;

    /// <summary>Value at the start of the interval.</summary>
    public float Start { get; }

    /// <summary>Value at the end of the interval.</summary>
    public float Target { get; }

    /// <summary>The ramp of the next interval, from where this one ends to a value, in so many frames.</summary>
    public Ramp Towards(float value, int frames) => new(Target, value, (value - Target) / frames);

    /// <summary>The ramp that lies higher by a constant.</summary>
    public Ramp Raised(float by) => new(Start + by, Target + by, step);

    /// <summary>Values of eight frames, the first at a place in the control interval (0 at its start).</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector256<float> At(int position)
    {
        Vector256<float> positions = Vector256.Create((float)position) + Vector256.Create(0f, 1, 2, 3, 4, 5, 6, 7);
        return Vector256.FusedMultiplyAdd(positions, Vector256.Create(step), Vector256.Create(Start));
    }

    /// <summary>Values of sixteen frames, bit for bit as of eight.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Vector512<float> SixteenAt(int position)
    {
        Vector512<float> positions = Vector512.Create((float)position)
            + Vector512.Create(0f, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15);
        return Vector512.FusedMultiplyAdd(positions, Vector512.Create(step), Vector512.Create(Start));
    }
}
