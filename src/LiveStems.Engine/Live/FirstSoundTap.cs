using System.Diagnostics;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Devices;

namespace LiveStems.Engine.Live;

/// <summary>Passes sound on and notes when the first of it was not silence.</summary>
/// <param name="source">Where the sound comes from.</param>
public sealed class FirstSoundTap(IAudioRenderer source) : IAudioRenderer
{
    private long at;

    /// <summary>Time since the first sound went to the device; null before it.</summary>
    public TimeSpan? Elapsed => Volatile.Read(ref at) is var start and not 0 ? Stopwatch.GetElapsedTime(start) : null;

    /// <inheritdoc/>
    public void Render(Span<float> left, Span<float> right)
    {
        source.Render(left, right);
        if (at == 0 && Math.Max(Planar.Peak(left), Planar.Peak(right)) > 0)
        {
            Volatile.Write(ref at, Stopwatch.GetTimestamp());
        }
    }
}
