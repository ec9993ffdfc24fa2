using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Streaming;

/// <summary>
/// The thread that reads the stems of a song ahead of the music. Jumps are prepared here: the ring that is not playing is
/// filled from the new place, and then the play head is asked to go over to it.
/// </summary>
internal sealed class StemStreamer : IDisposable
{
    // What a jump waits for: enough to bridge the time until the next round of reading by far.
    private const double PrefillSeconds = 0.1;
    private static readonly TimeSpan BetweenRounds = TimeSpan.FromMilliseconds(4);

    private readonly SongSources sources;
    private readonly Thread thread;
    private readonly AutoResetEvent wake = new(false);
    private Jump? wanted;
    private volatile bool isStopping;
    private Exception? failure;

    /// <summary>Starts to read from a frame of the song, in a loop or not.</summary>
    public StemStreamer(SongSources sources, long startFrame, LoopRegion? loop = null)
    {
        this.sources = sources;
        foreach (StemPump pump in sources.Pumps)
        {
            pump.Start(0, startFrame, loop);
            pump.FillTo((int)(PrefillSeconds * sources.SampleRate));
        }

        sources.Head.RequestSwitch(new RingStart(0, startFrame, loop));
        thread = new Thread(Run) { IsBackground = true, Name = "stem reader", Priority = ThreadPriority.AboveNormal };
        thread.Start();
    }

    /// <summary>What went wrong with a file, once; null while all is well. The stem is silent from there on.</summary>
    public Exception? TakeFailure() => Interlocked.Exchange(ref failure, null);

    /// <summary>Asks for a jump to a frame, in a loop or not; of several wishes the last one counts.</summary>
    public void JumpTo(long songFrame, LoopRegion? loop)
    {
        Volatile.Write(ref wanted, new Jump(songFrame, loop));
        wake.Set();
    }

    /// <summary>Ends the thread.</summary>
    public void Dispose()
    {
        isStopping = true;
        wake.Set();
        thread.Join();
        wake.Dispose();
    }

    private void Run()
    {
        bool[] hasFailed = new bool[sources.Pumps.Count];
        while (!isStopping)
        {
            // The other ring must be out of use before it is filled anew.
            if (Volatile.Read(ref wanted) is not null && !sources.Head.IsSwitching && Interlocked.Exchange(ref wanted, null) is { } jump)
            {
                Prepare(jump, hasFailed);
            }

            bool isBusy = false;
            for (int stem = 0; stem < sources.Pumps.Count; stem++)
            {
                isBusy |= Fill(stem, hasFailed);
            }

            if (!isBusy)
            {
                wake.WaitOne(BetweenRounds);
            }
        }
    }

    private void Prepare(Jump jump, bool[] hasFailed)
    {
        int ring = 1 - sources.Head.PlayingRing;
        int prefill = (int)(PrefillSeconds * sources.SampleRate);
        for (int stem = 0; stem < sources.Pumps.Count; stem++)
        {
            try
            {
                sources.Pumps[stem].Start(ring, jump.SongFrame, jump.Loop);
                sources.Pumps[stem].FillTo(prefill);
                hasFailed[stem] = false;
            }
            catch (Files.AudioFileException exception)
            {
                Fail(stem, hasFailed, exception);
            }
        }

        sources.Head.RequestSwitch(new RingStart(ring, jump.SongFrame, jump.Loop));
    }

    private bool Fill(int stem, bool[] hasFailed)
    {
        if (hasFailed[stem])
        {
            return false;
        }

        try
        {
            return sources.Pumps[stem].FillOnce();
        }
        catch (Files.AudioFileException exception)
        {
            Fail(stem, hasFailed, exception);
            return false;
        }
    }

    private void Fail(int stem, bool[] hasFailed, Exception exception)
    {
        hasFailed[stem] = true;
        Interlocked.CompareExchange(ref failure, exception, null);
    }

    private sealed record Jump(long SongFrame, LoopRegion? Loop);
}
