using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.RealTime;

namespace LiveStems.Analysis.Delivery;

/// <summary>
/// Cuts and fades a song while it is rendered, to the bit as <see cref="EdgedSound"/> does with a finished one. Where the
/// song ends shows only when it is over, so as much as is cut and faded there is held back.
/// </summary>
/// <param name="sink">Takes what is left.</param>
/// <param name="title">Title of the song, for messages.</param>
/// <param name="edges">What is done.</param>
/// <param name="sampleRate">Frames per second.</param>
internal sealed class EdgingSink(IRenderSink sink, string title, SongEdges edges, int sampleRate) : IRenderSink
{
    private const int FramesAtOnce = 4096;

    private readonly long trimStart = ToFrames(edges.TrimStartSeconds, sampleRate);
    private readonly long trimEnd = ToFrames(edges.TrimEndSeconds, sampleRate);
    private readonly EdgeFade fadeIn = new(edges.FadeInSeconds, edges.FadeInShape, sampleRate);
    private readonly EdgeFade fadeOut = new(edges.FadeOutSeconds, edges.FadeOutShape, sampleRate);
    private readonly float[] heldLeft = new float[ToFrames(edges.TrimEndSeconds, sampleRate) + ToFrames(edges.FadeOutSeconds, sampleRate)];
    private readonly float[] heldRight = new float[ToFrames(edges.TrimEndSeconds, sampleRate) + ToFrames(edges.FadeOutSeconds, sampleRate)];
    private readonly float[] left = new float[FramesAtOnce];
    private readonly float[] right = new float[FramesAtOnce];
    private long received;
    private long passed;
    private int pending;

    /// <summary>Takes frames.</summary>
    public void Write(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
    {
        for (int i = 0; i < newLeft.Length; i++)
        {
            long place = received++ - trimStart;
            if (place < 0)
            {
                continue;
            }

            (float nextLeft, float nextRight) = (newLeft[i], newRight[i]);
            if (heldLeft.Length > 0)
            {
                long slot = place % heldLeft.Length;
                (nextLeft, heldLeft[slot]) = (heldLeft[slot], nextLeft);
                (nextRight, heldRight[slot]) = (heldRight[slot], nextRight);
            }

            if (place >= heldLeft.Length)
            {
                Pass(nextLeft, nextRight, 1);
            }
        }
    }

    /// <summary>The song is over: the faded end follows.</summary>
    /// <returns>Frames that were passed on.</returns>
    /// <exception cref="DeliveryException">The cuts or fades are longer than the song.</exception>
    public long Finish()
    {
        long frames = received - trimStart - trimEnd;
        if (frames <= 0 || fadeIn.Frames + fadeOut.Frames > frames)
        {
            throw EdgedSound.LeaveNothing(title, (double)received / sampleRate, edges);
        }

        for (long place = frames - fadeOut.Frames; place < frames; place++)
        {
            long slot = place % heldLeft.Length;
            Pass(heldLeft[slot], heldRight[slot], fadeOut.GainAt(frames - place - 1));
        }

        Flush();
        return passed;
    }

    private void Pass(float nextLeft, float nextRight, double gain)
    {
        gain *= fadeIn.GainAt(passed);
        left[pending] = gain == 1 ? nextLeft : (float)(nextLeft * gain);
        right[pending] = gain == 1 ? nextRight : (float)(nextRight * gain);
        pending++;
        passed++;
        if (pending == FramesAtOnce)
        {
            Flush();
        }
    }

    private void Flush()
    {
        sink.Write(left.AsSpan(0, pending), right.AsSpan(0, pending));
        pending = 0;
    }

    private static long ToFrames(double seconds, int sampleRate) => (long)Math.Round(seconds * sampleRate);
}
