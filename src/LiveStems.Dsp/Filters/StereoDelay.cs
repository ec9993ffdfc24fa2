using System.Runtime.Intrinsics;
using LiveStems.Dsp.Simd;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Delays stereo sound by whole frames, or by fractions too at the price of a latency. A move to another delay cross-fades
/// between the two.
/// </summary>
/// <remarks>Memory is allocated in the constructor only. The output does not depend on how the sound is cut into calls.</remarks>
public sealed class StereoDelay
{
    private const int Chunk = 256;

    private readonly bool isFractional;
    private readonly int ringLength;
    private readonly float[] left;
    private readonly float[] right;
    private DelayTap present = new();
    private DelayTap next = new();
    private LinearRamp fade;
    private int position;

    /// <summary>A delay line of 0 frames.</summary>
    /// <param name="maximumFrames">The longest delay.</param>
    /// <param name="isFractional">Whether fractions of a frame are kept, with <see cref="LatencyFrames"/>; otherwise rounded.</param>
    public StereoDelay(int maximumFrames, bool isFractional)
    {
        this.isFractional = isFractional;
        ringLength = maximumFrames + FractionalDelayKernel.Length + Chunk;

        // Every frame is written twice, a ring apart, so that any stretch of the ring lies in one piece.
        left = Unmoved.Array<float>(2 * ringLength);
        right = Unmoved.Array<float>(2 * ringLength);
        Jump(0);
    }

    /// <summary>Frames that come on top of the delay: half the interpolator's length when fractions are kept, otherwise 0.</summary>
    public int LatencyFrames => isFractional ? FractionalDelayKernel.HalfLength : 0;

    /// <summary>True while one delay cross-fades to another.</summary>
    public bool IsFading => fade.IsMoving;

    /// <summary>Takes a delay in frames at once and forgets all sound.</summary>
    public void Jump(double frames)
    {
        present.Set(Rounded(frames), isFractional);
        fade.Jump(0);
        position = 0;
        Array.Clear(left);
        Array.Clear(right);
    }

    /// <summary>
    /// Cross-fades to another delay over a number of frames. Returns false, and does nothing, while a cross-fade is under
    /// way or when the delay is already there.
    /// </summary>
    public bool MoveTo(double frames, int fadeFrames)
    {
        if (IsFading || Rounded(frames) == present.Frames)
        {
            return false;
        }

        next.Set(Rounded(frames), isFractional);
        fade.Jump(0);
        fade.MoveTo(1, fadeFrames);
        return true;
    }

    /// <summary>Delays stereo sound in place; both channels have the same length.</summary>
    public void Process(Span<float> leftSound, Span<float> rightSound)
    {
        int done = 0;
        while (done < leftSound.Length)
        {
            int count = Math.Min(Math.Min(Chunk, leftSound.Length - done), ringLength - position);
            count = IsFading ? Math.Min(count, fade.FramesLeft) : count;
            Span<float> leftPart = leftSound.Slice(done, count);
            Span<float> rightPart = rightSound.Slice(done, count);
            Write(left, leftPart);
            Write(right, rightPart);
            if (IsFading)
            {
                CrossFade(leftPart, rightPart);
            }
            else
            {
                present.Read(left, position + ringLength, leftPart);
                present.Read(right, position + ringLength, rightPart);
            }

            done += count;
            position = (position + count) % ringLength;
        }
    }

    private double Rounded(double frames) => isFractional ? frames : Math.Round(frames);

    private void Write(float[] ring, ReadOnlySpan<float> sound)
    {
        sound.CopyTo(ring.AsSpan(position));
        sound.CopyTo(ring.AsSpan(position + ringLength));
    }

    private void CrossFade(Span<float> leftPart, Span<float> rightPart)
    {
        for (int n = 0; n < leftPart.Length; n++)
        {
            int newest = position + ringLength + n;
            Vector128<double> from = Vector128.Create(present.At(left, newest), present.At(right, newest));
            Vector128<double> to = Vector128.Create(next.At(left, newest), next.At(right, newest));
            Vector128<double> y = Vector128.FusedMultiplyAdd(Vector128.Create(fade.Next()), to - from, from);
            leftPart[n] = OutputFloats.Narrow(y.ToScalar());
            rightPart[n] = OutputFloats.Narrow(y.GetElement(1));
        }

        if (!IsFading)
        {
            (present, next) = (next, present);
        }
    }
}
