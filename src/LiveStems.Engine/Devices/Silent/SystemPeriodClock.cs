using System.Diagnostics;
using LiveStems.Engine.Devices.Native;

namespace LiveStems.Engine.Devices.Silent;

/// <summary>
/// The clock of the system. On Linux it sleeps to the very time; elsewhere it sleeps in milliseconds and spins for the
/// last two.
/// </summary>
internal sealed class SystemPeriodClock : IPeriodClock
{
    private const int SpinIterations = 20;

    private static readonly long SpinTicks = Stopwatch.Frequency / 500;

    private bool sleepsExactly = CanSleepExactly();

    public long Frequency => Stopwatch.Frequency;

    public long Now => Stopwatch.GetTimestamp();

    public void WaitUntil(long due)
    {
        for (long left = due - Now; left > 0; left = due - Now)
        {
            if (sleepsExactly)
            {
                sleepsExactly = LinuxThread.SleepUntil(due);
            }
            else if (left > SpinTicks)
            {
                Thread.Sleep(1);
            }
            else
            {
                Thread.SpinWait(SpinIterations);
            }
        }
    }

    // Only if the stopwatch and the clock that the system sleeps by are the same.
    private static bool CanSleepExactly()
    {
        if (!OperatingSystem.IsLinux() || !Environment.Is64BitProcess || Stopwatch.Frequency != 1_000_000_000)
        {
            return false;
        }

        long before = Stopwatch.GetTimestamp();
        long between = LinuxThread.MonotonicNanoseconds();
        return before <= between && between <= Stopwatch.GetTimestamp();
    }
}
