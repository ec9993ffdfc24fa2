namespace LiveStems.Engine.Monitor;

/// <summary>
/// A number that goes to each new value along a cubic whose slope never jumps, not even when the next value comes before
/// the last one is reached: gains that change without a click.
/// </summary>
/// <remarks>
/// The cubic of Hermite from present value and slope to the new value at rest. From rest it is 3t² − 2t³; a new value every
/// block makes it a follower of second order with damping 0.82 (derived from the cubic's curvature at its start), which
/// overshoots by 1 %. The value of a frame depends on how many frames went by, not on how they were cut into blocks.
/// </remarks>
internal struct Glide(double value)
{
    private double start = value;
    private double linear;
    private double square;
    private double cube;
    private int position;
    private int length;

    /// <summary>Where it is going.</summary>
    public double Target { get; private set; } = value;

    /// <summary>True while it has not arrived.</summary>
    public readonly bool IsMoving => position < length;

    /// <summary>Where it is.</summary>
    public readonly double Value
    {
        get
        {
            double t = Time;
            return IsMoving ? start + t * (linear + t * (square + t * cube)) : Target;
        }
    }

    private readonly double Time => (double)position / length;

    /// <summary>Stands at a value at once.</summary>
    public void Jump(double newValue)
    {
        Target = newValue;
        position = length = 0;
    }

    /// <summary>Sets off for another value, to arrive after a number of frames from 1.</summary>
    public void MoveTo(double newValue, int frames)
    {
        if (newValue == Target)
        {
            return;
        }

        double t = Time;
        double slope = IsMoving ? (linear + t * (2 * square + t * 3 * cube)) * frames / length : 0;
        start = Value;
        linear = slope;
        square = 3 * (newValue - start) - 2 * linear;
        cube = linear - 2 * (newValue - start);
        Target = newValue;
        position = 0;
        length = frames;
    }

    /// <summary>Goes on by a number of frames and says where it then is.</summary>
    public double Advance(int frames)
    {
        position = Math.Min(position + frames, length);
        return Value;
    }

    /// <summary>Multiplies both channels, frame by frame.</summary>
    public void Multiply(Span<float> left, Span<float> right)
    {
        int moving = Math.Min(length - position, left.Length);
        for (int i = 0; i < moving; i++)
        {
            double gain = Advance(1);
            left[i] = (float)(left[i] * gain);
            right[i] = (float)(right[i] * gain);
        }

        if (moving < left.Length && Target != 1)
        {
            for (int i = moving; i < left.Length; i++)
            {
                left[i] = (float)(left[i] * Target);
                right[i] = (float)(right[i] * Target);
            }
        }
    }
}
