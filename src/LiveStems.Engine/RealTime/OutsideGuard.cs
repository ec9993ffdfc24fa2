using LiveStems.Engine.Hosting;
using LiveStems.Processing.Contract;

namespace LiveStems.Engine.RealTime;

/// <summary>
/// Knows whether the rendering thread is inside a processor of others, in which, and since when. A watching thread may
/// declare it lost there; from then on that thread can do no more harm than to return into an exception that ends it.
/// </summary>
/// <remarks>
/// One rendering thread at a time signs in and out. Being lost is decided by one compare-and-exchange: either the processor
/// signs out first and nothing has happened, or the watcher comes first and everything behind <see cref="Leave"/> is never
/// reached. So nothing that is shared is ever touched by two threads.
/// </remarks>
internal sealed class OutsideGuard(TimeProvider clock)
{
    // Inside: the number of the stay, from 1 up, so that one stay is never taken for another.
    private const long Outside = 0;
    private const long Lost = -1;

    [ThreadStatic]
    private static Visit? own;

    private Visit? watched;
    private WeakReference<Type>[] givenUp = [];

    /// <summary>What tells how long a stay lasts.</summary>
    public TimeProvider Clock => clock;

    /// <summary>The calling thread renders from now on and is the one that is watched. Others may run the same plans unwatched.</summary>
    public void BeginThread()
    {
        own = new Visit();
        Volatile.Write(ref watched, own);
    }

    /// <summary>True when the calling thread is one that is watched, or was: a processor may hang it.</summary>
    public static bool WatchesThisThread => own is not null;

    /// <summary>Watching thread: no processor of a kind, which is one build of it, is called any more.</summary>
    public void GiveUp(Type kind) => Volatile.Write(ref givenUp, [.. givenUp, new WeakReference<Type>(kind)]);

    /// <summary>Whoever calls processors: true when its kind was given up.</summary>
    public bool HasGivenUp(Processor processor)
    {
        foreach (WeakReference<Type> kind in Volatile.Read(ref givenUp))
        {
            if (kind.TryGetTarget(out Type? type) && type == processor.GetType())
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Rendering thread: goes into a processor.</summary>
    public void Enter(Processor processor)
    {
        if (own is { } now)
        {
            now.Processor = processor;
            now.Since = clock.GetTimestamp();
            Volatile.Write(ref now.State, ++now.Stays);
        }
    }

    /// <summary>Rendering thread: has come out of it.</summary>
    /// <exception cref="LostThreadException">Another thread renders by now.</exception>
    public static void Leave()
    {
        if (own is { } now)
        {
            if (Interlocked.CompareExchange(ref now.State, Outside, now.Stays) != now.Stays)
            {
                LostThreadException.End();
            }

            // Nothing keeps hold of code that may be let go.
            now.Processor = null;
        }
    }

    /// <summary>Watching thread: the processor that the rendering thread has been in for longer than a time, lost from now on; null when all is well.</summary>
    /// <param name="patience">So long it may be inside.</param>
    /// <param name="notBefore">A timestamp before which nothing counts: the machine itself stood still.</param>
    public Processor? TakeLost(TimeSpan patience, long notBefore = 0)
    {
        if (Volatile.Read(ref watched) is not { } now || Volatile.Read(ref now.State) is var stay && stay <= Outside)
        {
            return null;
        }

        bool isLost = clock.GetElapsedTime(Math.Max(notBefore, Volatile.Read(ref now.Since))) >= patience
            && Interlocked.CompareExchange(ref now.State, Lost, stay) == stay;
        return isLost ? now.Processor : null;
    }

    private sealed class Visit
    {
        public long State;
        public long Stays;
        public long Since;
        public Processor? Processor;
    }
}
