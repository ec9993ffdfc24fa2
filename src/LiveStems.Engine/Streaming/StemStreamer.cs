using System.Diagnostics;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Streaming;

/// <summary>
/// Has the stems of a song read ahead of the music. A jump is prepared here: every stem fills the ring that is not playing
/// from the new place, and then the play head is asked to go over to it.
/// </summary>
internal sealed class StemStreamer : IDisposable
{
    // What a jump waits for: enough to bridge the time until the next round of reading by far.
    private const double PrefillSeconds = 0.1;

    // A stem that takes longer to get ready for a jump joins in later.
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromMilliseconds(2);
    private static readonly TimeSpan LongestEnd = TimeSpan.FromSeconds(1);

    private readonly SongSources sources;
    private readonly StemReader[] readers;
    private readonly Thread thread;
    private readonly AutoResetEvent wake = new(false);
    private readonly AutoResetEvent progress = new(false);
    private Jump? wanted;
    private long generation;
    private volatile bool isStopping;

    /// <summary>Starts to read from a frame of the song, in a loop or not.</summary>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public StemStreamer(SongSources sources, long startFrame, LoopRegion? loop = null)
    {
        this.sources = sources;
        int prefill = (int)(PrefillSeconds * sources.SampleRate);
        RingStart start = new(0, startFrame, loop, generation);
        readers = [.. sources.Pumps.Select(pump => new StemReader(pump, prefill, progress))];
        foreach (StemPump pump in sources.Pumps)
        {
            pump.Start(start);
            pump.FillTo(prefill);
        }

        sources.Head.RequestSwitch(start);
        thread = new Thread(Run) { IsBackground = true, Name = "stem jumps", Priority = ThreadPriority.AboveNormal };
        thread.Start();
        Array.ForEach(readers, reader => reader.Start());
    }

    /// <summary>What went wrong with files since the last call. Such a stem is silent until its file can be read again.</summary>
    public void TakeFailures(Action<Exception> take)
    {
        foreach (StemReader reader in readers)
        {
            if (reader.TakeFailure() is { } failure)
            {
                take(failure);
            }
        }
    }

    /// <summary>Asks for a jump to a frame, in a loop or not; of several wishes the last one counts.</summary>
    public void JumpTo(long songFrame, LoopRegion? loop)
    {
        Volatile.Write(ref wanted, new Jump(songFrame, loop));
        wake.Set();
    }

    /// <summary>Asks for another loop, or none, while the music goes on as it does; its place must lie in the loop.</summary>
    public void GoOn(LoopRegion? loop)
    {
        // A jump that waits is still made, into the other loop.
        Jump? waiting = Volatile.Read(ref wanted);
        while (Interlocked.CompareExchange(ref wanted, new Jump(waiting?.SongFrame, loop), waiting) is var found && !ReferenceEquals(found, waiting))
        {
            waiting = found;
        }

        wake.Set();
    }

    /// <summary>False when a disk still held a thread at the end, which then uses its file on.</summary>
    public bool HasEnded { get; private set; }

    /// <summary>Ends the threads; one that the disk holds ends when it is let go.</summary>
    public void Dispose()
    {
        isStopping = true;
        wake.Set();
        progress.Set();
        Array.ForEach(readers, reader => reader.Stop());
        thread.Join();
        long start = Stopwatch.GetTimestamp();
        HasEnded = true;
        foreach (StemReader reader in readers)
        {
            TimeSpan left = LongestEnd - Stopwatch.GetElapsedTime(start);
            HasEnded &= reader.Join(left > TimeSpan.Zero ? left : TimeSpan.Zero);
        }

        if (HasEnded)
        {
            Array.ForEach(readers, reader => reader.Dispose());
            progress.Dispose();
        }

        wake.Dispose();
    }

    private void Run()
    {
        while (!isStopping)
        {
            // The other ring must be out of use before it is filled anew.
            if (Volatile.Read(ref wanted) is not null && !sources.Head.IsSwitching && Interlocked.Exchange(ref wanted, null) is { } jump)
            {
                Prepare(jump);
            }

            wake.WaitOne(Volatile.Read(ref wanted) is null ? Timeout.InfiniteTimeSpan : BetweenLooks);
        }
    }

    private void Prepare(Jump jump)
    {
        long place = jump.SongFrame ?? sources.Head.Position;
        bool isBehind = jump.Loop is { } region && place >= region.EndFrame;
        RingStart start = new(1 - sources.Head.PlayingRing, isBehind ? jump.Loop!.StartFrame : place, jump.Loop, ++generation) { GoesOn = jump.SongFrame is null && !isBehind };
        Array.ForEach(readers, reader => reader.Prepare(start));
        long began = Stopwatch.GetTimestamp();
        while (!isStopping && !Array.TrueForAll(readers, reader => reader.Prepared == start.Generation))
        {
            TimeSpan left = Patience - Stopwatch.GetElapsedTime(began);
            if (left <= TimeSpan.Zero)
            {
                break;
            }

            progress.WaitOne(left);
        }

        sources.Head.RequestSwitch(start);
    }

    private sealed record Jump(long? SongFrame, LoopRegion? Loop);
}
