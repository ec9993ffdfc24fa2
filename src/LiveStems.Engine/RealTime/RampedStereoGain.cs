using LiveStems.Dsp.Simd;
using LiveStems.Engine.Monitor;

namespace LiveStems.Engine.RealTime;

/// <summary>A gain for each side that glides to each new value without a corner.</summary>
internal sealed class RampedStereoGain(int rampFrames, float left, float right)
{
    private readonly int rampFrames = rampFrames;
    private long posted;
    private int isPosted;
    private Glide leftGain = new(left);
    private Glide rightGain = new(right);

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
            leftGain.MoveTo(BitConverter.UInt32BitsToSingle((uint)(bits >> 32)), rampFrames);
            rightGain.MoveTo(BitConverter.UInt32BitsToSingle((uint)bits), rampFrames);
        }
    }

    /// <summary>Arrives at once.</summary>
    public void Arrive()
    {
        leftGain.Jump(leftGain.Target);
        rightGain.Jump(rightGain.Target);
    }

    /// <summary>Audio thread: adds the source, scaled, to the destination.</summary>
    public void Add(ReadOnlySpan<float> sourceLeft, ReadOnlySpan<float> sourceRight, Span<float> left, Span<float> right)
    {
        int moved = 0;
        while (moved < left.Length && (leftGain.IsMoving || rightGain.IsMoving))
        {
            left[moved] = (float)(left[moved] + (leftGain.Advance(1) * sourceLeft[moved]));
            right[moved] = (float)(right[moved] + (rightGain.Advance(1) * sourceRight[moved]));
            moved++;
        }

        bool isSilent = leftGain.Target == 0 && rightGain.Target == 0;
        if (moved < left.Length && !isSilent)
        {
            Planar.AddScaled(sourceLeft[moved..], (float)leftGain.Target, left[moved..]);
            Planar.AddScaled(sourceRight[moved..], (float)rightGain.Target, right[moved..]);
        }
    }
}
