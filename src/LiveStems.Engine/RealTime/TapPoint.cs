using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.RealTime;

/// <summary>A place on a path where a tap can be put on and taken off while it runs; always keeps the largest samples.</summary>
internal sealed class TapPoint
{
    private SoundTap? tap;
    private float leftPeak;
    private float rightPeak;

    /// <summary>Control thread: where the sound is copied to from the next block on; null for nowhere.</summary>
    public SoundTap? Tap
    {
        get => Volatile.Read(ref tap);
        set => Volatile.Write(ref tap, value);
    }

    /// <summary>One reading thread: the largest samples since the last call.</summary>
    public (float Left, float Right) TakePeaks() => (Interlocked.Exchange(ref leftPeak, 0), Interlocked.Exchange(ref rightPeak, 0));

    /// <summary>Audio thread: takes in a block.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        Tap?.Write(left, right);
        Raise(ref leftPeak, Planar.Peak(left));
        Raise(ref rightPeak, Planar.Peak(right));
    }

    private static void Raise(ref float peak, float value)
    {
        if (value > Volatile.Read(ref peak))
        {
            Volatile.Write(ref peak, value);
        }
    }
}
