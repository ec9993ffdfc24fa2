using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <summary>
/// Renders a little ahead on a thread of its own, so that a processor that never returns cannot hold the device's thread:
/// that one only takes what is there. A second thread watches; when it declares the rendering thread lost, a new one goes on
/// from the next block with what the player has put in place.
/// </summary>
/// <remarks>
/// Used only while processors of others are in the catalogue: it costs <see cref="BlocksAhead"/> blocks of latency. Between a
/// loss and the first block of the new thread the device gets what was rendered ahead, then silence.
/// </remarks>
internal sealed class WatchedRenderer : IAudioRenderer, IDisposable
{
    private const int BlocksAhead = 3;
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(60);
    private static readonly TimeSpan Watch = TimeSpan.FromMilliseconds(5);

    private readonly IAudioRenderer source;
    private readonly int blockFrames;
    private readonly OutsideGuard guard;
    private readonly Action<Processor> takeOver;
    private readonly StemRing ring;
    private readonly Thread watcher;
    private readonly ManualResetEventSlim ending = new();
    private Thread renderer;
    private long missedFrames;

    /// <param name="source">What renders.</param>
    /// <param name="blockFrames">Frames of a block.</param>
    /// <param name="guard">Where processors sign in and out.</param>
    /// <param name="takeOver">Called on the watching thread with the culprit: puts in place what the next thread is to render.</param>
    public WatchedRenderer(IAudioRenderer source, int blockFrames, OutsideGuard guard, Action<Processor> takeOver)
    {
        this.source = source;
        this.blockFrames = blockFrames;
        this.guard = guard;
        this.takeOver = takeOver;
        ring = new StemRing(BlocksAhead * blockFrames);
        renderer = StartRendering();
        watcher = new Thread(WatchOver) { IsBackground = true, Name = "watch over outside processors" };
        watcher.Start();
    }

    /// <summary>Frames that were not there in time.</summary>
    public long MissedFrames => Volatile.Read(ref missedFrames);

    /// <summary>Audio thread: takes what has been rendered; silence for what has not.</summary>
    public void Render(Span<float> left, Span<float> right)
    {
        int frames = Math.Min(left.Length, ring.Available);
        ring.Take(left[..frames], right[..frames]);
        if (frames < left.Length)
        {
            left[frames..].Clear();
            right[frames..].Clear();
            Volatile.Write(ref missedFrames, missedFrames + left.Length - frames);
        }
    }

    public void Dispose()
    {
        ending.Set();
        watcher.Join();

        // A lost thread is never waited for.
        renderer.Join(TimeSpan.FromSeconds(1));
    }

    private Thread StartRendering()
    {
        Thread thread = new(RenderOn) { IsBackground = true, Name = "rendering", Priority = ThreadPriority.Highest };
        thread.Start();
        return thread;
    }

    private void RenderOn()
    {
        float[] left = new float[blockFrames];
        float[] right = new float[blockFrames];
        guard.BeginThread();
        try
        {
            while (!ending.IsSet)
            {
                if (ring.Free < blockFrames)
                {
                    Thread.Sleep(1);
                    continue;
                }

                RenderOne(left, right);
                Put(left, right);
            }
        }
        catch (LostThreadException)
        {
            // Another thread renders by now.
        }
    }

    // What throws here is no processor (those are caught where they run): a block of silence, as the device would make of it.
    private void RenderOne(float[] left, float[] right)
    {
        try
        {
            source.Render(left, right);
        }
        catch (Exception fault) when (fault is not LostThreadException)
        {
            Array.Clear(left);
            Array.Clear(right);
            Volatile.Write(ref missedFrames, missedFrames + blockFrames);
        }
    }

    private void Put(float[] left, float[] right)
    {
        for (int done = 0; done < blockFrames;)
        {
            int run = ring.GetSpace(blockFrames - done, out Span<float> spaceLeft, out Span<float> spaceRight);
            left.AsSpan(done, run).CopyTo(spaceLeft);
            right.AsSpan(done, run).CopyTo(spaceRight);
            ring.Advance(run);
            done += run;
        }
    }

    private void WatchOver()
    {
        while (!ending.Wait(Watch))
        {
            if (guard.TakeLost(Patience) is { } culprit)
            {
                takeOver(culprit);
                renderer = StartRendering();
            }
        }
    }
}
