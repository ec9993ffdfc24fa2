namespace LiveStems.Engine.Devices.Native;

/// <summary>Sleeps of a few microseconds, for threads that wait for another process.</summary>
internal static class ShortSleep
{
    /// <summary>Sleeps about so long; a millisecond or more where the system knows nothing shorter.</summary>
    internal static void For(int microseconds)
    {
        if (!OperatingSystem.IsLinux() || LinuxThread.MonotonicNanoseconds() is not (> 0 and var now) || !LinuxThread.SleepUntil(now + microseconds * 1000L))
        {
            Thread.Sleep(1);
        }
    }
}
