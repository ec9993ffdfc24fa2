using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.RealTime;

/// <summary>A gain for each side that arrives at a new value along a straight ramp.</summary>
internal sealed class RampedStereoGain(int rampFrames, float left, float right)
{
    private readonly int rampFrames = rampFrames;
    private long posted;
    private int isPosted;
    private float fromLeft = left;
    private float fromRight = right;
    private float toLeft = left;
    private float toRight = right;
    private int position = rampFrames;

    /// <summary>Control thread: asks for new gains; of several the last one counts.</summary>
    public void Post(float newLeft, float newRight)
    {
        long bits = (long)BitConverter.SingleToUInt32Bits(newLeft) << 32 | BitConverter.SingleToUInt32Bits(newRight);
        Volatile.Write(ref posted, bits);
        Volatile.Write(ref isPosted, 1);
    }

    /// <summary>Audio thread: sets off for the gains that were asked for, if any were.</summary>
    public void Receive()
    {
        if (Volatile.Read(ref isPosted) != 0 && Interlocked.Exchange(ref isPosted, 0) != 0)
        {
            long bits = Volatile.Read(ref posted);
            MoveTo(BitConverter.UInt32BitsToSingle((uint)(bits >> 32)), BitConverter.UInt32BitsToSingle((uint)bits));
        }
    }

    /// <summary>Arrives at once.</summary>
    public void Arrive() => position = rampFrames;

    /// <summary>Audio thread: adds the source, scaled, to the destination.</summary>
    public void Add(ReadOnlySpan<float> sourceLeft, ReadOnlySpan<float> sourceRight, Span<float> left, Span<float> right)
    {
        int ramp = Math.Min(left.Length, rampFrames - position);
        if (ramp > 0)
        {
            float share = 1f / rampFrames;
            Planar.AddRamped(sourceLeft[..ramp], fromLeft, (toLeft - fromLeft) * share, position + 1, left[..ramp]);
            Planar.AddRamped(sourceRight[..ramp], fromRight, (toRight - fromRight) * share, position + 1, right[..ramp]);
            position += ramp;
        }

        bool isSilent = toLeft == 0 && toRight == 0;
        if (ramp < left.Length && !isSilent)
        {
            Planar.AddScaled(sourceLeft[ramp..], toLeft, left[ramp..]);
            Planar.AddScaled(sourceRight[ramp..], toRight, right[ramp..]);
        }
    }

    private void MoveTo(float newLeft, float newRight)
    {
        if (newLeft == toLeft && newRight == toRight)
        {
            return;
        }

        float share = Math.Min(1, (float)position / rampFrames);
        fromLeft += (toLeft - fromLeft) * share;
        fromRight += (toRight - fromRight) * share;
        toLeft = newLeft;
        toRight = newRight;
        position = 0;
    }
}
