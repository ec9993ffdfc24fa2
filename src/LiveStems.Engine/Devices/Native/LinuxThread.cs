using System.Runtime.InteropServices;

namespace LiveStems.Engine.Devices.Native;

/// <summary>What Linux offers a thread that must be on time: the real-time policy, exact sleep, the monotonic clock.</summary>
/// <remarks>Numbers of sched.h, time.h and sys/prctl.h on Linux, from memory; each use works without on refusal.</remarks>
internal static unsafe partial class LinuxThread
{
    private const int FirstInFirstOut = 1;
    private const int RoundRobin = 2;
    private const int Usual = 0;
    private const int ResetOnFork = 0x4000_0000;
    private const int MonotonicClock = 1;
    private const int AbsoluteTime = 1;
    private const int SetTimerSlack = 29;
    private const int Interrupted = 4;
    private const long NanosecondsPerSecond = 1_000_000_000;

    // Above the threads of interrupt handlers (50) is the habit for sound; lower ones where a limit is set.
    private static readonly int[] Priorities = [60, 30, 20, 5, 1];

    /// <summary>Puts the calling thread under SCHED_FIFO unless it is real-time already; false if that is not allowed.</summary>
    /// <param name="most">The highest priority to ask for.</param>
    internal static bool TryMakeRealTime(int most = 60)
    {
        Scheduling scheduling = default;
        int policy;
        nint thread = Self();
        if (GetScheduling(thread, &policy, &scheduling) == 0 && (policy & ~ResetOnFork) is FirstInFirstOut or RoundRobin)
        {
            return true;
        }

        foreach (int priority in Priorities)
        {
            scheduling.Priority = priority;
            if (priority <= most && SetScheduling(thread, FirstInFirstOut, &scheduling) == 0)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>
    /// Puts the calling thread, and none that it starts, under SCHED_FIFO; false if that is not allowed, or if the C library
    /// knows threads by their own numbers only.
    /// </summary>
    internal static bool TryMakeRealTimeAlone(int priority)
    {
        Scheduling scheduling = new() { Priority = priority };
        return SetSchedulingOf(0, FirstInFirstOut | ResetOnFork, &scheduling) == 0;
    }

    /// <summary>The system's number of the calling thread; 0 where the C library does not tell.</summary>
    internal static int Number()
    {
        try
        {
            return NumberOfThread();
        }
        catch (EntryPointNotFoundException)
        {
            return 0;
        }
    }

    /// <summary>Takes a thread of this process out of the real-time class.</summary>
    internal static void MakeUsual(int number)
    {
        Scheduling scheduling = default;
        // Without the flag, which stays once it is set, it would be refused to all but the system's administrator (sched(7)).
        _ = SetSchedulingOf(number, Usual | ResetOnFork, &scheduling);
    }

    /// <summary>Binds the functions of <see cref="TryMakeRealTime"/> beforehand; changes nothing.</summary>
    internal static void Warm()
    {
        Scheduling scheduling = default;
        int policy;
        nint thread = Self();
        if (GetScheduling(thread, &policy, &scheduling) == 0)
        {
            _ = SetScheduling(thread, policy, &scheduling);
        }
    }

    /// <summary>Lets timers of the calling thread fire within a nanosecond instead of the usual 50 µs.</summary>
    internal static void SharpenTimers() => _ = Control(SetTimerSlack, 1, 0, 0, 0);

    /// <summary>Nanoseconds of CLOCK_MONOTONIC, −1 if there is none.</summary>
    internal static long MonotonicNanoseconds()
    {
        TimeSpecification time;
        return GetTime(MonotonicClock, &time) == 0 ? (time.Seconds * NanosecondsPerSecond) + time.Nanoseconds : -1;
    }

    /// <summary>Sleeps until a time of CLOCK_MONOTONIC or a signal; false if the system cannot.</summary>
    internal static bool SleepUntil(long nanoseconds)
    {
        (long seconds, long rest) = Math.DivRem(nanoseconds, NanosecondsPerSecond);
        TimeSpecification time = new() { Seconds = (nint)seconds, Nanoseconds = (nint)rest };
        return Sleep(MonotonicClock, AbsoluteTime, &time, null) is 0 or Interrupted;
    }

    [LibraryImport("libc", EntryPoint = "pthread_self")]
    private static partial nint Self();

    [LibraryImport("libc", EntryPoint = "pthread_getschedparam")]
    private static partial int GetScheduling(nint thread, int* policy, Scheduling* scheduling);

    [LibraryImport("libc", EntryPoint = "pthread_setschedparam")]
    private static partial int SetScheduling(nint thread, int policy, Scheduling* scheduling);

    [LibraryImport("libc", EntryPoint = "sched_setscheduler")]
    private static partial int SetSchedulingOf(int thread, int policy, Scheduling* scheduling);

    [LibraryImport("libc", EntryPoint = "gettid")]
    private static partial int NumberOfThread();

    [LibraryImport("libc", EntryPoint = "prctl")]
    private static partial int Control(int option, nuint first, nuint second, nuint third, nuint fourth);

    [LibraryImport("libc", EntryPoint = "clock_gettime")]
    private static partial int GetTime(int clock, TimeSpecification* time);

    [LibraryImport("libc", EntryPoint = "clock_nanosleep")]
    private static partial int Sleep(int clock, int flags, TimeSpecification* time, TimeSpecification* remaining);

    // struct sched_param: an int in glibc, 48 bytes in musl.
    [StructLayout(LayoutKind.Sequential, Size = 64)]
    private struct Scheduling
    {
        internal int Priority;
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct TimeSpecification
    {
        internal nint Seconds;
        internal nint Nanoseconds;
    }
}
