namespace LiveStems.App.Terminal;

/// <summary>What the system does not let us do, with what helps.</summary>
internal static class SystemFault
{
    // Error numbers as .NET hands them on: ENOSPC of Linux and macOS, ERROR_DISK_FULL and ERROR_HANDLE_DISK_FULL of Windows.
    private const int NoSpaceLeft = 28;
    private const int WindowsDiskFull = unchecked((int)0x80070070);
    private const int WindowsHandleDiskFull = unchecked((int)0x80070027);

    /// <summary>The fault as one line.</summary>
    public static string InWords(Exception fault) => fault switch
    {
        UnauthorizedAccessException => $"{fault.Message.TrimEnd('.')}; give yourself the right to it, or name another place",
        { HResult: NoSpaceLeft or WindowsDiskFull or WindowsHandleDiskFull } => $"{fault.Message.TrimEnd('.')}: the disk is full; make room, or write to another disk (nothing was changed)",
        _ => fault.Message,
    };
}
