using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace LiveStems.Engine.Monitor;

/// <summary>
/// Lets sound through as it is, and nothing else: at a sample that is not finite both sides fall silent and come back
/// once the input has been sound for 10 ms.
/// </summary>
/// <remarks>
/// <para>
/// There is no good sample to fade out, so the last one is held and faded away along a raised cosine; coming back is a
/// raised cosine too. Values beyond +100 dBFS are cut there, so that no later arithmetic can overflow.
/// </para>
/// </remarks>
internal sealed class SampleGuard
{
    /// <summary>The largest magnitude that comes out: +100 dBFS.</summary>
    public const float Largest = 1e5f;

    private readonly int fadeFrames;
    private readonly int wholeFrames;
    private int soundFrames;
    private int heldFrames;
    private float heldLeft;
    private float heldRight;
    private float lastLeft;
    private float lastRight;
    private long caught;

    /// <param name="fadeFrames">Frames of a fade: 10 ms.</param>
    public SampleGuard(int fadeFrames)
    {
        this.fadeFrames = fadeFrames;
        wholeFrames = 2 * fadeFrames;
        Reset();
    }

    /// <summary>Samples that were not finite, so far; readable from any thread.</summary>
    public long Caught => Volatile.Read(ref caught);

    /// <summary>State as if from silence; the count stays.</summary>
    public void Reset()
    {
        soundFrames = wholeFrames;
        heldFrames = fadeFrames;
        lastLeft = lastRight = 0;
    }

    /// <summary>Guards both sides, in place.</summary>
    public void Process(Span<float> left, Span<float> right)
    {
        if (left.Length == 0)
        {
            return;
        }

        bool isOpen = soundFrames == wholeFrames && heldFrames == fadeFrames;
        if (!isOpen || !AreSound(left) || !AreSound(right))
        {
            ProcessEach(left, right);
        }

        lastLeft = left[^1];
        lastRight = right[^1];
    }

    private void ProcessEach(Span<float> left, Span<float> right)
    {
        for (int i = 0; i < left.Length; i++)
        {
            int broken = (float.IsFinite(left[i]) ? 0 : 1) + (float.IsFinite(right[i]) ? 0 : 1);
            if (broken > 0)
            {
                Catch(broken);
            }

            float share = ShareOfInput();
            left[i] = share == 0 ? 0 : share * Math.Clamp(left[i], -Largest, Largest);
            right[i] = share == 0 ? 0 : share * Math.Clamp(right[i], -Largest, Largest);
            AddHeld(ref left[i], ref right[i]);
            lastLeft = left[i];
            lastRight = right[i];
        }
    }

    private void Catch(int broken)
    {
        // One thread writes.
        Volatile.Write(ref caught, caught + broken);
        if (soundFrames > fadeFrames)
        {
            heldLeft = lastLeft;
            heldRight = lastRight;
            heldFrames = 0;
        }

        soundFrames = -1;
    }

    private float ShareOfInput()
    {
        soundFrames = Math.Min(soundFrames + 1, wholeFrames);
        int opening = soundFrames - fadeFrames;
        return opening <= 0 ? 0 : opening == fadeFrames ? 1 : 0.5f - 0.5f * MathF.Cos(MathF.PI * opening / fadeFrames);
    }

    private void AddHeld(ref float left, ref float right)
    {
        if (heldFrames == fadeFrames)
        {
            return;
        }

        float share = 0.5f + 0.5f * MathF.Cos(MathF.PI * heldFrames / fadeFrames);
        left += share * heldLeft;
        right += share * heldRight;
        heldFrames++;
    }

    // A comparison with NaN is false.
    private static bool AreSound(ReadOnlySpan<float> samples)
    {
        ref float sample = ref MemoryMarshal.GetReference(samples);
        int i = 0;
        for (; i <= samples.Length - Vector256<float>.Count; i += Vector256<float>.Count)
        {
            if (!Vector256.LessThanOrEqualAll(Vector256.Abs(Vector256.LoadUnsafe(ref sample, (nuint)i)), Vector256.Create(Largest)))
            {
                return false;
            }
        }

        for (; i < samples.Length; i++)
        {
            if (!(MathF.Abs(samples[i]) <= Largest))
            {
                return false;
            }
        }

        return true;
    }
}
