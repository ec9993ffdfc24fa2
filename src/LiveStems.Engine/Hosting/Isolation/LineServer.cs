using LiveStems.Engine.Devices.Native;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>
/// The processor's side of a shared line, in the process of its own: a thread that processes what has been handed over as soon
/// as it is there.
/// </summary>
/// <remarks>
/// Between blocks it looks for a few microseconds, then naps, ever shorter as the next block comes near: six of them on two
/// cores must not take the time that the music needs.
/// </remarks>
internal sealed class LineServer
{
    private const int LooksBeforeNap = 400;
    private const int NapMicroseconds = 20;
    private const int LongestNapMicroseconds = 5000;
    private const int LongestLateNapMicroseconds = 200;
    private const int LongNapMilliseconds = 2;

    // After so long without a block nobody plays.
    private static readonly TimeSpan Idle = TimeSpan.FromSeconds(0.2);

    private readonly SharedLine line;
    private readonly Processor processor;
    private readonly long filling;
    private readonly ForeignMemory memory;
    private readonly float[] left;
    private readonly float[] right;
    private readonly float[] keyLeft;
    private readonly float[] keyRight;
    private readonly Thread thread;
    private volatile bool isEnding;
    private long arrived;
    private long interval;

    /// <param name="line">The shared memory; it is disposed of at the end.</param>
    /// <param name="processor">Prepared.</param>
    /// <param name="maximumFrames">Longest block it is prepared for.</param>
    /// <param name="filling">The filling that it serves.</param>
    public LineServer(SharedLine line, Processor processor, int maximumFrames, long filling)
    {
        this.line = line;
        this.processor = processor;
        this.filling = filling;
        memory = new ForeignMemory(maximumFrames);
        left = new float[maximumFrames];
        right = new float[maximumFrames];
        keyLeft = new float[maximumFrames];
        keyRight = new float[maximumFrames];
        thread = new Thread(Serve) { IsBackground = true, Name = "processor " + processor.Description.Id };
        thread.Start();
    }

    /// <summary>Ends the thread; one that is stuck in the processor is left.</summary>
    public void End()
    {
        isEnding = true;
        if (thread.Join(TimeSpan.FromSeconds(1)))
        {
            line.Dispose();
        }
    }

    private void Serve()
    {
        AudioThread.RaiseHelper();
        while (!isEnding && Volatile.Read(ref line.Filling) < filling)
        {
            ShortSleep.For(NapMicroseconds * 10);
        }

        long position = 0;
        while (!isEnding && Volatile.Read(ref line.Filling) == filling)
        {
            long written = WaitForMore(position);
            while (position < written && !isEnding)
            {
                position += ProcessNext(position, written);
            }
        }
    }

    private int ProcessNext(long position, long written)
    {
        while (line.TryPeek(out long frame, out int what, out double value) && frame <= position)
        {
            Obey(what, value);
            line.TakeCommand();
        }

        long end = line.TryPeek(out long next, out _, out _) ? Math.Min(written, next) : written;
        int frames = (int)Math.Min(end - position, left.Length);
        line.Get(0, position, left.AsSpan(0, frames));
        line.Get(1, position, right.AsSpan(0, frames));
        Process(position, frames);
        line.PutBack(0, position, left.AsSpan(0, frames));
        line.PutBack(1, position, right.AsSpan(0, frames));
        Volatile.Write(ref line.Processed, position + frames);
        return frames;
    }

    private void Obey(int what, double value)
    {
        try
        {
            if (what == SharedLine.ResetCommand)
            {
                processor.Reset();
            }
            else if (what < processor.Description.Parameters.Count)
            {
                processor.SetParameter(what, value);
            }
        }
        catch (Exception)
        {
            Volatile.Write(ref line.Fault, (int)ProcessorFault.Threw);
        }
    }

    private void Process(long position, int frames)
    {
        if (Volatile.Read(ref line.Fault) != 0)
        {
            return;
        }

        Span<float> soundLeft = left.AsSpan(0, frames);
        Span<float> soundRight = right.AsSpan(0, frames);
        bool hasKey = line.Channels == 4;
        if (hasKey)
        {
            line.Get(2, position, keyLeft.AsSpan(0, frames));
            line.Get(3, position, keyRight.AsSpan(0, frames));
        }

        memory.Put(soundLeft, soundRight, hasKey ? keyLeft.AsSpan(0, frames) : default, hasKey ? keyRight.AsSpan(0, frames) : default);
        try
        {
            processor.Process(memory.Block(frames, hasKey));
            Volatile.Write(ref line.ReductionDb, processor.GainReductionDb);
        }
        catch (Exception)
        {
            // The program passes it by and says so.
            Volatile.Write(ref line.Fault, (int)ProcessorFault.Threw);
        }

        if (!memory.IsIntact(frames))
        {
            Volatile.Write(ref line.Fault, (int)ProcessorFault.WroteOutside);
        }
        else if (Volatile.Read(ref line.Fault) == 0)
        {
            memory.Take(soundLeft, soundRight);
        }
    }

    private long WaitForMore(long position)
    {
        for (int look = 0; look < LooksBeforeNap; look++)
        {
            if (Volatile.Read(ref line.Written) is var written && written > position)
            {
                return Arrive(written);
            }

            Thread.SpinWait(1);
        }

        long waiting = TimeProvider.System.GetTimestamp();
        while (!isEnding && Volatile.Read(ref line.Filling) == filling)
        {
            if (Volatile.Read(ref line.Written) is var written && written > position)
            {
                return Arrive(written);
            }

            Nap(waiting);
        }

        return position;
    }

    // Half of what is left to the next block, again and again: whoever expects it too late still finds it halfway. Of one that
    // is late nobody knows when it comes: a quarter of the time it is late by, so that six who wait do not fill two cores.
    private void Nap(long waiting)
    {
        long now = TimeProvider.System.GetTimestamp();
        if (TimeProvider.System.GetElapsedTime(waiting, now) > Idle)
        {
            Thread.Sleep(LongNapMilliseconds);
            return;
        }

        double due = TimeProvider.System.GetElapsedTime(now, arrived + interval).TotalMicroseconds;
        ShortSleep.For((int)(due > 0
            ? Math.Clamp(due / 2, NapMicroseconds, LongestNapMicroseconds)
            : Math.Clamp(-due / 4, NapMicroseconds, LongestLateNapMicroseconds)));
    }

    private long Arrive(long written)
    {
        long now = TimeProvider.System.GetTimestamp();

        // Shorter at once, longer little by little: who sleeps too long is late, who sleeps too short looks again. The first
        // block tells nothing of the next.
        if (arrived != 0)
        {
            interval = Math.Min(now - arrived, interval == 0 ? now - arrived : interval + (interval / 16));
        }

        arrived = now;
        return written;
    }
}
