using LiveStems.Engine.RealTime;
using LiveStems.Files;

namespace LiveStems.Engine.Streaming;

/// <summary>
/// The thread that reads one stem ahead of the music. Every stem has its own, so that a file that comes slowly or not at
/// all holds up no other.
/// </summary>
internal sealed class StemReader : IDisposable
{
    private const int StackBytes = 256 * 1024;
    private static readonly TimeSpan BetweenRounds = TimeSpan.FromMilliseconds(8);
    private static readonly TimeSpan BeforeRetry = TimeSpan.FromMilliseconds(500);

    private readonly StemPump pump;
    private readonly int prefillFrames;
    private readonly AutoResetEvent wake = new(false);
    private readonly AutoResetEvent progress;
    private readonly Thread thread;
    private RingStart? wanted;
    private long prepared;
    private Exception? failure;
    private bool hasFailed;
    private volatile bool isStopping;

    /// <param name="pump">What it keeps filled.</param>
    /// <param name="prefillFrames">Frames that must be there before a jump is made.</param>
    /// <param name="progress">Set whenever a jump has been prepared.</param>
    public StemReader(StemPump pump, int prefillFrames, AutoResetEvent progress)
    {
        this.pump = pump;
        this.prefillFrames = prefillFrames;
        this.progress = progress;
        thread = new Thread(Run, StackBytes) { IsBackground = true, Name = "stem reader", Priority = ThreadPriority.AboveNormal };
    }

    /// <summary>Number of the filling that was prepared last, or failed to be.</summary>
    public long Prepared => Volatile.Read(ref prepared);

    /// <summary>What went wrong with the file, once; null while all is well.</summary>
    public Exception? TakeFailure() => Interlocked.Exchange(ref failure, null);

    /// <summary>Starts the thread; a filling that was asked for before comes first.</summary>
    public void Start() => thread.Start();

    /// <summary>Asks for another filling; of several the last one counts.</summary>
    public void Prepare(RingStart start)
    {
        Volatile.Write(ref wanted, start);
        wake.Set();
    }

    /// <summary>Asks the thread to end.</summary>
    public void Stop()
    {
        isStopping = true;
        wake.Set();
    }

    /// <summary>Waits for the end of the thread; false when the disk holds it longer than that.</summary>
    public bool Join(TimeSpan patience) => thread.Join(patience);

    /// <summary>Lets go of what the thread waited by; after it has ended.</summary>
    public void Dispose() => wake.Dispose();

    private void Run()
    {
        while (!isStopping)
        {
            TimeSpan pause = Work();
            if (pause > TimeSpan.Zero)
            {
                wake.WaitOne(pause);
            }
        }
    }

    private TimeSpan Work()
    {
        RingStart? start = Interlocked.Exchange(ref wanted, null);
        try
        {
            if (start is not null)
            {
                pump.Start(start);
                pump.FillTo(prefillFrames);
            }
            else if (hasFailed)
            {
                pump.Resume();
            }

            bool isBusy = pump.FillOnce();
            hasFailed = false;
            return isBusy ? TimeSpan.Zero : BetweenRounds;
        }
        catch (Exception exception) when (isStopping || exception is AudioFileException or IOException)
        {
            if (!hasFailed)
            {
                Volatile.Write(ref failure, exception);
            }

            hasFailed = true;
            return BeforeRetry;
        }
        finally
        {
            if (start is not null)
            {
                Volatile.Write(ref prepared, start.Generation);
                progress.Set();
            }
        }
    }
}
