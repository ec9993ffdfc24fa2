using LiveStems.Engine.Devices;

namespace LiveStems.Tests.Engine.Devices;

/// <summary>Renders the number of each frame, negative on the right, and remembers how it was asked.</summary>
internal sealed class CountingRenderer : IAudioRenderer
{
    private long frames;

    public long Frames => Volatile.Read(ref frames);

    public int LongestCall { get; private set; }

    public int Calls { get; private set; }

    public void Render(Span<float> left, Span<float> right)
    {
        for (int i = 0; i < left.Length; i++)
        {
            left[i] = frames + i;
            right[i] = -left[i];
        }

        LongestCall = Math.Max(LongestCall, left.Length);
        Calls++;
        Volatile.Write(ref frames, frames + left.Length);
    }
}
