namespace LiveStems.Engine.Devices.Native;

/// <summary>Raises audio threads as far as the system allows.</summary>
internal static class AudioThread
{
    private const int HelperPriority = 20;
    private const int WatcherPriority = 30;

    /// <summary>Raises the calling thread, one of ours.</summary>
    internal static AudioThreadPriority RaiseOurs()
    {
        try
        {
            Thread.CurrentThread.Priority = ThreadPriority.Highest;
        }
        catch (Exception cause) when (cause is ThreadStateException or UnauthorizedAccessException)
        {
            return AudioThreadPriority.Normal;
        }

        if (!OperatingSystem.IsLinux())
        {
            return AudioThreadPriority.Raised;
        }

        LinuxThread.SharpenTimers();
        return RaiseOnLinux();
    }

    /// <summary>Raises the calling thread, which works for an audio thread and must never stand in its way.</summary>
    /// <param name="elsewhere">Its priority where there is no real-time class to ask for.</param>
    internal static void RaiseHelper(ThreadPriority elsewhere = ThreadPriority.AboveNormal)
    {
        Thread.CurrentThread.Priority = elsewhere;
        if (OperatingSystem.IsLinux())
        {
            LinuxThread.SharpenTimers();
            if (!LinuxThread.TryMakeRealTimeAlone(HelperPriority))
            {
                LinuxThread.TryMakeRealTime(HelperPriority);
            }
        }
    }

    /// <summary>
    /// Raises the calling thread, which runs code that may never return: only where <see cref="LetGo"/> can take it back.
    /// Threads that it starts are not raised with it.
    /// </summary>
    /// <returns>What to hand to <see cref="LetGo"/>; 0 where the thread was not raised.</returns>
    internal static int RaiseWatched()
    {
        Thread.CurrentThread.Priority = ThreadPriority.Highest;
        if (!OperatingSystem.IsLinux())
        {
            return 0;
        }

        LinuxThread.SharpenTimers();
        return LinuxThread.TryMakeRealTimeAlone(HelperPriority) ? LinuxThread.Number() : 0;
    }

    /// <summary>Raises the calling thread above the one that it watches.</summary>
    internal static void RaiseWatcher()
    {
        Thread.CurrentThread.Priority = ThreadPriority.Highest;
        if (OperatingSystem.IsLinux())
        {
            LinuxThread.TryMakeRealTime(WatcherPriority);
        }
    }

    /// <summary>A thread that was raised is one like any other again: it is stuck and must not stand in anyone's way.</summary>
    internal static void LetGo(int watched)
    {
        if (watched != 0 && OperatingSystem.IsLinux())
        {
            LinuxThread.MakeUsual(watched);
        }
    }

    /// <summary>Raises the calling thread, one of the sound library; Windows and macOS have done so themselves.</summary>
    internal static AudioThreadPriority RaiseLibrarys() =>
        OperatingSystem.IsLinux() ? RaiseOnLinux() : AudioThreadPriority.BySoundSystem;

    /// <summary>Binds what <see cref="RaiseLibrarys"/> calls, so that the audio thread need not.</summary>
    internal static void Warm()
    {
        if (OperatingSystem.IsLinux())
        {
            LinuxThread.Warm();
        }
    }

    private static AudioThreadPriority RaiseOnLinux() =>
        LinuxThread.TryMakeRealTime() ? AudioThreadPriority.RealTime : AudioThreadPriority.Normal;
}
