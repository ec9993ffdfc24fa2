using System.Runtime.InteropServices;
using System.Runtime.Versioning;

namespace LiveStems.Engine.Devices.Native;

/// <summary>The system timer of Windows, whose tick of 15.6 ms is too coarse for sound unless a program asks for less.</summary>
[SupportedOSPlatform("windows")]
internal static partial class WindowsTimer
{
    /// <summary>Asks for ticks of so many milliseconds; to be ended with <see cref="End"/>.</summary>
    [LibraryImport("winmm.dll", EntryPoint = "timeBeginPeriod")]
    internal static partial uint Begin(uint milliseconds);

    /// <summary>Ends what <see cref="Begin"/> began.</summary>
    [LibraryImport("winmm.dll", EntryPoint = "timeEndPeriod")]
    internal static partial uint End(uint milliseconds);
}
