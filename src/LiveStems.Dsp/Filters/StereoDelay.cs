using System.Runtime.Intrinsics;

namespace LiveStems.Dsp.Filters;

/// <summary>
/// Delays stereo sound by whole frames, or by fractions too at the price of a latency. A move to another delay cross-fades
/// between the two.
/// </summary>
/// <remarks>Memory is allocated in the constructor only. The output does not depend on how the sound is cut into calls.</remarks>
public sealed class StereoDelay
{
    private readonly bool isFractional;
    private readonly int ringLength;
    private readonly double[] left;
    private readonly double[] right;
    private DelayTap present;
    private DelayTap next;
    private LinearRamp fade;
    private int position;

    /// <summary>A delay line of 0 frames.</summary>
    /// <param name="maximumFrames">The longest delay.</param>
    /// <param name="isFractional">Whether fractions of a frame are kept, with <see cref="LatencyFrames"/>; otherwise rounded.</param>
    public StereoDelay(int maximumFrames, bool isFractional)
    {
        this.isFractional = isFractional;
        ringLength = maximumFrames + 1 + FractionalDelayKernel.Length;

        // Every frame is written twice, a ring apart, so that any stretch of the ring lies in one piece.
        left = new double[2 * ringLength];
        right = new double[2 * ringLength];
        present = new DelayTap();
        next = new DelayTap();
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

    /// <summary>Delays stereo sound in place.</summary>
    public void Process(Span<float> leftSound, Span<float> rightSound)
    {
        for (int n = 0; n < leftSound.Length; n++)
        {
            left[position] = left[position + ringLength] = leftSound[n];
            right[position] = right[position + ringLength] = rightSound[n];
            Vector128<double> y = Read(present);
            if (fade.IsMoving)
            {
                Vector128<double> other = Read(next);
                y = Vector128.FusedMultiplyAdd(Vector128.Create(fade.Next()), other - y, y);
                if (!fade.IsMoving)
                {
                    (present, next) = (next, present);
                }
            }

            leftSound[n] = (float)y.ToScalar();
            rightSound[n] = (float)y.GetElement(1);
            position = position + 1 == ringLength ? 0 : position + 1;
        }
    }

    private double Rounded(double frames) => isFractional ? frames : Math.Round(frames);

    private Vector128<double> Read(DelayTap tap)
    {
        int newest = position + ringLength - tap.WholeFrames;
        return tap.IsWhole
            ? Vector128.Create(left[newest], right[newest])
            : Vector128.Create(tap.Filter(left.AsSpan(0, newest + 1)), tap.Filter(right.AsSpan(0, newest + 1)));
    }
}
