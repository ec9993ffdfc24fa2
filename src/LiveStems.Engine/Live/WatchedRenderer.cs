using System.Diagnostics;
using System.Runtime;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Devices.Native;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Live;

/// <summary>
/// Lets the device's thread render, or, while processors of others play, a thread of its own a little ahead of it: so one that
/// never returns cannot hold the device's thread, which only takes what is there. Plans with such processors are walked by a
/// third thread (<see cref="PlanWalker"/>) and a fourth one watches: when it declares the walk lost, another walks on.
/// </summary>
/// <remarks>
/// Watching costs as many blocks of latency as wait in a device, for a device that was kept waiting asks for those at once.
/// Between a loss and the rest of its block the device gets what was rendered ahead, then silence, with a slope on both sides
/// of it. Who may render is one number that is changed by compare-and-exchange: never two.
/// </remarks>
internal sealed class WatchedRenderer : IAudioRenderer, IDisposable
{
    private const int Nobody = 0;
    private const int DeviceThread = 1;
    private const int OwnThread = 2;
    private const int RingFrames = 65_536;
    private const int NapMicroseconds = 500;
    private const int EndTurns = 5;
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(60);
    private static readonly TimeSpan OwnPause = TimeSpan.FromMilliseconds(30);
    private static readonly TimeSpan EndPatience = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan BatonPatience = TimeSpan.FromMilliseconds(200);

    /// <summary>Time between two looks at the walk.</summary>
    public static readonly TimeSpan Watch = TimeSpan.FromMilliseconds(5);

    private readonly IAudioRenderer source;
    private readonly int blockFrames;
    private readonly int blocksAhead;
    private readonly TimeSpan twoPeriods;
    private readonly OutsideGuard guard;
    private readonly Action<Processor, long> lost;
    private readonly StemRing ring;
    private readonly ManualResetEventSlim ending = new();
    private readonly ManualResetEventSlim endingWatch = new();
    private readonly ManualResetEventSlim hasBaton = new();
    private Thread? renderer;
    private Thread? watcher;
    private PlanWalker? walker;
    private int owner;
    private int calls;
    private int ahead;
    private int asked;
    private long missedFrames;
    private long missedBeforeBlock;
    private long renderTicks;
    private long compiledMethods;
    private FadeFromStep fade;
    private float lastLeft;
    private float lastRight;
    private bool hasHole;

    /// <param name="source">What renders.</param>
    /// <param name="blockFrames">Frames of a block.</param>
    /// <param name="sampleRate">Frames per second.</param>
    /// <param name="guard">Where processors sign in and out.</param>
    /// <param name="lost">Told, on the watching thread, which processor did not return, and how many frames had been missed before the block of that.</param>
    public WatchedRenderer(IAudioRenderer source, int blockFrames, int sampleRate, OutsideGuard guard, Action<Processor, long> lost)
    {
        this.source = source;
        this.blockFrames = blockFrames;
        this.guard = guard;
        this.lost = lost;
        twoPeriods = TimeSpan.FromSeconds(2.0 * blockFrames / sampleRate);
        ring = StemRing.ForAudioThread(RingFrames);
        blocksAhead = new DeviceSettings(sampleRate, blockFrames).WaitingBuffers(sampleRate);
        ahead = blocksAhead * blockFrames;
        fade = new FadeFromStep(PlanTiming.RampFrames(sampleRate));
    }

    /// <summary>Frames that were not there in time.</summary>
    public long MissedFrames => Volatile.Read(ref missedFrames);

    /// <summary>True while it is watched.</summary>
    public bool IsWatching => watcher is not null;

    /// <summary>True when a call for so many frames gets them all: whoever drives the device by hand can wait for it.</summary>
    public bool CanGive(int frames) => Volatile.Read(ref owner) != OwnThread || ring.Available >= frames;

    /// <summary>Control thread: rendering goes over to a thread that is watched; returns when it has.</summary>
    public void BeginWatch()
    {
        if (watcher is not null)
        {
            return;
        }

        ending.Reset();
        endingWatch.Reset();
        hasBaton.Reset();
        PlanWalker walk = new(guard);
        walker = walk;
        renderer = Start(() => RenderOn(walk), "rendering");
        hasBaton.Wait(BatonPatience);
        watcher = Start(WatchOver, "watch over outside processors");
    }

    /// <summary>Control thread: rendering goes back to the device's thread, which first takes what was rendered ahead.</summary>
    public void EndWatch()
    {
        if (watcher is null)
        {
            return;
        }

        ending.Set();
        bool hasEnded = renderer!.Join(EndPatience);
        endingWatch.Set();
        watcher.Join();

        // What is still inside a processor is lost from now on, so the block under way comes to its end without it.
        for (int turn = 0; turn < EndTurns && !hasEnded; turn++)
        {
            GoOnWithoutLost(TimeSpan.Zero);
            hasEnded = renderer.Join(EndPatience);
        }

        if (hasEnded)
        {
            walker!.Dispose();
        }

        walker = null;
        watcher = null;
    }

    /// <summary>Audio thread: takes what has been rendered, with silence for what has not, or renders.</summary>
    public void Render(Span<float> left, Span<float> right)
    {
        asked += left.Length;
        int frames = Math.Min(left.Length, ring.Available);
        if (frames < left.Length && Interlocked.CompareExchange(ref owner, DeviceThread, Nobody) == Nobody)
        {
            // In between the last frames may have come in.
            frames = Math.Min(left.Length, ring.Available);
            ring.Take(left[..frames], right[..frames]);
            try
            {
                source.Render(left[frames..], right[frames..]);
            }
            finally
            {
                Volatile.Write(ref owner, Nobody);
            }

            frames = left.Length;
        }
        else
        {
            ring.Take(left[..frames], right[..frames]);
            left[frames..].Clear();
            right[frames..].Clear();
            Interlocked.Add(ref missedFrames, left.Length - frames);
        }

        SlopeHole(left, right, frames);
        Volatile.Write(ref calls, calls + 1);
    }

    /// <inheritdoc/>
    public RenderedElsewhere TakeElsewhere()
    {
        // A device whose buffer has become longer, or which takes more at a time for its rate, needs as many of its own blocks.
        Volatile.Write(ref ahead, Math.Min(RingFrames, blocksAhead * Math.Max(blockFrames, asked)));
        asked = 0;
        return new RenderedElsewhere(Interlocked.Exchange(ref renderTicks, 0), Interlocked.Exchange(ref compiledMethods, 0), hasHole);
    }

    public void Dispose() => EndWatch();

    // Where the sound breaks off, and where it comes back, the step becomes a slope.
    private void SlopeHole(Span<float> left, Span<float> right, int frames)
    {
        bool hadHole = hasHole;
        hasHole = frames < left.Length;
        if (hadHole && frames > 0)
        {
            fade.Start(lastLeft - left[0], lastRight - right[0]);
        }

        fade.Apply(left[..frames], right[..frames]);
        if (hasHole)
        {
            if (frames > 0)
            {
                fade.Start(left[frames - 1], right[frames - 1]);
            }
            else if (!hadHole)
            {
                fade.Start(lastLeft, lastRight);
            }

            fade.Apply(left[frames..], right[frames..]);
        }

        if (left.Length > 0)
        {
            (lastLeft, lastRight) = (left[^1], right[^1]);
        }
    }

    private static Thread Start(ThreadStart work, string name)
    {
        Thread thread = new(work) { IsBackground = true, Name = name, Priority = ThreadPriority.Highest };
        thread.Start();
        return thread;
    }

    private void RenderOn(PlanWalker walk)
    {
        float[] left = new float[blockFrames];
        float[] right = new float[blockFrames];
        AudioThread.RaiseHelper(ThreadPriority.Highest);
        walk.RunForThisThread();
        if (!TakeBaton())
        {
            return;
        }

        while (!ending.IsSet)
        {
            if (ring.Available + blockFrames > Volatile.Read(ref ahead))
            {
                ShortSleep.For(NapMicroseconds);
                continue;
            }

            RenderOne(walk, left, right);
            Put(left, right);
        }

        Volatile.Write(ref owner, Nobody);
    }

    // Right after the device's thread has rendered a block there is most time to render the next one here.
    private bool TakeBaton()
    {
        int seen = Volatile.Read(ref calls);
        long start = TimeProvider.System.GetTimestamp();
        while (Volatile.Read(ref calls) == seen && TimeProvider.System.GetElapsedTime(start) < twoPeriods)
        {
            Thread.SpinWait(20);
        }

        while (Interlocked.CompareExchange(ref owner, OwnThread, Nobody) != Nobody)
        {
            if (ending.IsSet)
            {
                return false;
            }

            Thread.SpinWait(20);
        }

        hasBaton.Set();
        return true;
    }

    // What throws here is no processor (those are caught where they run): a block of silence, as the device would make of it.
    private void RenderOne(PlanWalker walk, float[] left, float[] right)
    {
        long compiled = JitInfo.GetCompiledMethodCount(currentThread: true);
        int losses = PlanRunner.LossesOfThisThread;
        long start = Stopwatch.GetTimestamp();
        Volatile.Write(ref missedBeforeBlock, MissedFrames);
        try
        {
            source.Render(left, right);
        }
        catch (Exception)
        {
            Array.Clear(left);
            Array.Clear(right);
            Interlocked.Add(ref missedFrames, blockFrames);
        }

        // While a walk was waited for that was lost then, nothing was rendered.
        if (PlanRunner.LossesOfThisThread == losses)
        {
            Interlocked.Add(ref renderTicks, Stopwatch.GetTimestamp() - start);
        }

        Interlocked.Add(ref compiledMethods, JitInfo.GetCompiledMethodCount(currentThread: true) - compiled + walk.TakeCompiledMethods());
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
        AudioThread.RaiseWatcher();
        TimeProvider clock = guard.Clock;
        long looked = clock.GetTimestamp();
        long notBefore = 0;
        while (!endingWatch.Wait(Watch))
        {
            // Who did not run himself for so long cannot tell whether another did.
            long now = clock.GetTimestamp();
            notBefore = clock.GetElapsedTime(looked, now) > OwnPause ? now : notBefore;
            looked = now;
            GoOnWithoutLost(Patience, notBefore);
        }
    }

    private void GoOnWithoutLost(TimeSpan patience, long notBefore = 0)
    {
        long missedBefore = Volatile.Read(ref missedBeforeBlock);
        if (walker!.GoOnWithoutLost(patience, notBefore) is { } culprit)
        {
            lost(culprit, missedBefore);
        }
    }
}
