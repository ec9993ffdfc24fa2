namespace LiveStems.Files.Writing;

/// <summary>Words what the system says when it does not let us write.</summary>
internal static class WritingFault
{
    // The error numbers of a full disk, a used-up quota and a file system's largest file, as .NET hands them on.
    private const int WindowsDiskFull = unchecked((int)0x80070070);
    private const int WindowsHandleDiskFull = unchecked((int)0x80070027);
    private const int NoSpaceLeft = 28;
    private const int LinuxQuotaExceeded = 122;
    private const int MacQuotaExceeded = 69;

    /// <summary>A file outgrew its file system, such as 4 GiB on FAT32.</summary>
    internal const int FileTooLarge = 27;

    /// <summary>Is this a fault of the system, and not of this program?</summary>
    internal static bool IsOfSystem(Exception cause) => cause
        is IOException or UnauthorizedAccessException or NotSupportedException;

    /// <summary>The fault as one line.</summary>
    internal static AudioFileException Of(string path, Exception cause) => FileFault.Of(path, Why(cause), cause);

    private static string Why(Exception cause) => cause switch
    {
        { HResult: WindowsDiskFull or WindowsHandleDiskFull or NoSpaceLeft } =>
            "cannot be written, the disk is full; make room, or write to another disk (nothing was changed)",
        { HResult: LinuxQuotaExceeded or MacQuotaExceeded } =>
            "cannot be written, your quota of the disk is used up; make room, or write to another disk (nothing was changed)",
        { HResult: FileTooLarge } =>
            "cannot be written, it is too large for this file system; write to another disk (nothing was changed)",
        FileNotFoundException => "cannot be written, no file can be made there; write to another folder",
        DirectoryNotFoundException => "cannot be written, its folder is not there; make the folder first",
        UnauthorizedAccessException => "may not be written; give yourself the right to write there",
        PathTooLongException => "has too long a name; write to a shorter path",
        _ => $"cannot be written ({cause.Message}); check the disk or the connection (nothing was changed)",
    };
}
