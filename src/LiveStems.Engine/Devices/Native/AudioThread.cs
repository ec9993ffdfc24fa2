namespace LiveStems.Engine.Devices.Native;

/// <summary>Raises audio threads as far as the system allows.</summary>
internal static class AudioThread
{
    private const int HelperPriority = 20;

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
    internal static void RaiseHelper()
    {
        Thread.CurrentThread.Priority = ThreadPriority.AboveNormal;
        if (OperatingSystem.IsLinux())
        {
            LinuxThread.SharpenTimers();
            LinuxThread.TryMakeRealTime(HelperPriority);
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
