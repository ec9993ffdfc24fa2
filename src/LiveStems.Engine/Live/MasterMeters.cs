using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Simd;

namespace LiveStems.Engine.Live;

/// <summary>Loudness and peaks of the master as it plays, before the monitor; written by the audio thread, read by any.</summary>
internal sealed class MasterMeters(int sampleRate)
{
    private readonly LoudnessMeter loudness = new(sampleRate);
    private float leftPeak;
    private float rightPeak;
    private double momentary = double.NegativeInfinity;
    private double shortTerm = double.NegativeInfinity;

    /// <summary>Loudness of the last 0.4 s in LUFS.</summary>
    public double MomentaryLufs => Volatile.Read(ref momentary);

    /// <summary>Loudness of the last 3 s in LUFS.</summary>
    public double ShortTermLufs => Volatile.Read(ref shortTerm);

    /// <summary>The largest samples since the last call.</summary>
    public (float Left, float Right) TakePeaks() => (Interlocked.Exchange(ref leftPeak, 0), Interlocked.Exchange(ref rightPeak, 0));

    /// <summary>Audio thread: takes a block in.</summary>
    public void Add(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        loudness.Add(left, right);
        Volatile.Write(ref momentary, loudness.MomentaryLufs);
        Volatile.Write(ref shortTerm, loudness.ShortTermLufs);
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
