namespace LiveStems.Dsp.Filters;

/// <summary>
/// A number that moves to each new value on a straight line, frame by frame: a gain that changes without a click. The
/// value of a frame depends on how many frames went by, not on how they were cut into blocks.
/// </summary>
public struct LinearRamp
{
    private double from;
    private double to;
    private int position;
    private int length;

    /// <summary>True while the value has not arrived.</summary>
    public readonly bool IsMoving => position < length;

    /// <summary>Frames until the value arrives.</summary>
    public readonly int FramesLeft => length - position;

    /// <summary>Where the value is going.</summary>
    public readonly double Target => to;

    /// <summary>Stands at a value at once.</summary>
    public void Jump(double value)
    {
        from = to = value;
        position = length = 0;
    }

    /// <summary>Leaves the present value for another one, to arrive after a number of frames from 1.</summary>
    public void MoveTo(double value, int frames)
    {
        if (value == to)
        {
            return;
        }

        from = Present;
        to = value;
        position = 0;
        length = frames;
    }

    /// <summary>The value of the next frame.</summary>
    public double Next()
    {
        if (position < length)
        {
            position++;
        }

        return Present;
    }

    /// <summary>Multiplies both channels, which have the same length. A gain that stands at 1 leaves every bit alone.</summary>
    public void Multiply(Span<float> left, Span<float> right)
    {
        int moving = Math.Min(FramesLeft, left.Length);
        for (int n = 0; n < moving; n++)
        {
            double gain = Next();
            left[n] = OutputFloats.Narrow(left[n] * gain);
            right[n] = OutputFloats.Narrow(right[n] * gain);
        }

        if (to != 1)
        {
            OutputFloats.Multiply(left[moving..], to);
            OutputFloats.Multiply(right[moving..], to);
        }
    }

    /// <summary>Multiplies one channel. A gain that stands at 1 leaves every bit alone.</summary>
    public void Multiply(Span<float> samples)
    {
        int moving = Math.Min(FramesLeft, samples.Length);
        for (int n = 0; n < moving; n++)
        {
            samples[n] = OutputFloats.Narrow(samples[n] * Next());
        }

        if (to != 1)
        {
            OutputFloats.Multiply(samples[moving..], to);
        }
    }

    private readonly double Present =>
        position < length ? Math.FusedMultiplyAdd((double)position / length, to - from, from) : to;
}
