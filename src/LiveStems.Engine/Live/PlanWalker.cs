using System.Runtime;
using System.Runtime.ExceptionServices;
using LiveStems.Engine.Devices.Native;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <summary>
/// Walks plans with processors of others for a rendering thread, which waits meanwhile: one that never returns holds the thread
/// of the walk and nothing else. Another thread then walks on from the very step, which passes its processor by; everything
/// else in the block is done once and in order, so that every other sound is the same bits.
/// </summary>
/// <remarks>
/// A walk that is stuck can do no harm later: <see cref="OutsideGuard.Leave"/> never lets it come back into the plan. Going
/// over to the walk and back costs some microseconds a block, however many processors are in the plan.
/// </remarks>
internal sealed class PlanWalker : PlanRunner, IDisposable
{
    private readonly OutsideGuard guard;
    private readonly AutoResetEvent hasWork = new(false);
    private readonly AutoResetEvent hasWalked = new(false);
    private Thread walk;
    private Plan? plan;
    private int frames;
    private int systemThread;
    private long compiledMethods;
    private ExceptionDispatchInfo? fault;
    private int losses;
    private volatile bool isEnding;

    /// <param name="guard">Where processors sign in and out.</param>
    public PlanWalker(OutsideGuard guard)
    {
        this.guard = guard;
        walk = Start(hasBlock: false);
    }

    /// <inheritdoc/>
    protected override int Losses => Volatile.Read(ref losses);

    /// <inheritdoc/>
    public override void Run(Plan plan, int frames)
    {
        this.plan = plan;
        this.frames = frames;
        hasWork.Set();
        hasWalked.WaitOne();
        this.plan = null;
        Interlocked.Exchange(ref fault, null)?.Throw();
    }

    /// <summary>
    /// Watching thread: when the walk has been inside one processor for longer than a time, another walks on without that
    /// processor and all of its kind.
    /// </summary>
    /// <returns>The processor, or null when all is well.</returns>
    public Processor? GoOnWithoutLost(TimeSpan patience, long notBefore = 0)
    {
        if (guard.TakeLost(patience, notBefore) is not { } culprit)
        {
            return null;
        }

        AudioThread.LetGo(Volatile.Read(ref systemThread));
        guard.GiveUp(culprit.GetType());
        Interlocked.Increment(ref losses);
        walk = Start(hasBlock: true);
        return culprit;
    }

    /// <summary>How many methods the walks have had compiled since the last call.</summary>
    public long TakeCompiledMethods() => Interlocked.Exchange(ref compiledMethods, 0);

    /// <summary>Ends the walk. Nothing may render through it any more, so it waits for work or is on its way to do so.</summary>
    public void Dispose()
    {
        isEnding = true;
        hasWork.Set();
        walk.Join();
        hasWork.Dispose();
        hasWalked.Dispose();
    }

    private Thread Start(bool hasBlock)
    {
        Thread thread = new(() => Walk(hasBlock)) { IsBackground = true, Name = "walk with outside processors", Priority = ThreadPriority.Highest };
        thread.Start();
        return thread;
    }

    private void Walk(bool hasBlock)
    {
        guard.BeginThread();
        Volatile.Write(ref systemThread, AudioThread.RaiseWatched());
        try
        {
            for (bool goesOn = hasBlock || WaitForWork(); goesOn; goesOn = WaitForWork())
            {
                WalkOne(isStuck: hasBlock);
                hasBlock = false;
                hasWalked.Set();
            }
        }
        catch (LostThreadException)
        {
            // Another thread walks by now.
        }
    }

    // What throws here is no processor (those are caught where they run): the rendering thread deals with it.
    private void WalkOne(bool isStuck)
    {
        long compiled = JitInfo.GetCompiledMethodCount(currentThread: true);
        try
        {
            if (isStuck)
            {
                plan!.GoOn(frames);
            }
            else
            {
                plan!.Run(frames);
            }
        }
        catch (Exception cause) when (cause is not LostThreadException)
        {
            fault = ExceptionDispatchInfo.Capture(cause);
        }

        Interlocked.Add(ref compiledMethods, JitInfo.GetCompiledMethodCount(currentThread: true) - compiled);
    }

    private bool WaitForWork()
    {
        hasWork.WaitOne();
        return !isEnding;
    }
}
