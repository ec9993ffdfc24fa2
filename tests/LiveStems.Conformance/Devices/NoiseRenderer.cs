using LiveStems.Engine.Devices;

namespace LiveStems.Conformance.Devices;

/// <summary>Silence for so many frames, noise in which no frame is like another for so many more, and then silence.</summary>
internal sealed class NoiseRenderer(int silentFrames, int noiseFrames) : IAudioRenderer
{
    private long frames;

    public long Frames => Volatile.Read(ref frames);

    /// <summary>One sample of frame n of the noise, channel 0 or 1: within ±0.25, never 0, in all 24 bits of a float.</summary>
    public static float Sample(long frame, int channel)
    {
        // The finaliser of MurmurHash3 (Appleby, public domain; from memory: any good mixer would do).
        uint hash = (uint)((2 * frame) + channel + 1);
        hash = (hash ^ (hash >> 16)) * 0x85EBCA6B;
        hash = (hash ^ (hash >> 13)) * 0xC2B2AE35;
        hash ^= hash >> 16;
        return (((int)(hash >> 8) | 1) - 8_388_608) / 33_554_432f;
    }

    public void Render(Span<float> left, Span<float> right)
    {
        for (int i = 0; i < left.Length; i++)
        {
            long frame = frames + i - silentFrames;
            bool sounds = frame >= 0 && frame < noiseFrames;
            left[i] = sounds ? Sample(frame, 0) : 0;
            right[i] = sounds ? Sample(frame, 1) : 0;
        }

        Volatile.Write(ref frames, frames + left.Length);
    }
}
