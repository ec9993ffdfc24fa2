namespace LiveStems.Engine.Devices;

/// <summary>What users are told about devices: one line, with the cure.</summary>
internal static class DeviceTexts
{
    /// <summary>What always helps; ends every refusal of a device that was asked for.</summary>
    internal const string SilentHint = ", or use --device silent";

    internal const string NoDevices = "no sound device was found: connect one or start the sound server";

    private const int MostCandidates = 6;

    internal static string MissingLibrary() => MissingLibrary(
        OperatingSystem.IsWindows() ? SystemFamily.Windows : OperatingSystem.IsMacOS() ? SystemFamily.MacOS : SystemFamily.Linux);

    internal static string MissingLibrary(SystemFamily system) => "PortAudio is not installed: " + system switch
    {
        SystemFamily.Windows => "put portaudio_x64.dll of portaudio.com beside this program",
        SystemFamily.MacOS => "brew install portaudio",
        _ => "apt-get install libportaudio2 (Fedora: dnf install portaudio, Arch: pacman -S portaudio)",
    };

    internal static string Unknown(string choice) =>
        $"no sound device fits '{choice}': choose one that 'livestems devices' lists{SilentHint}";

    internal static string Unavailable(string choice, string problem) =>
        $"sound device '{choice}' cannot be used: {problem}{SilentHint}";

    internal static string NotStereo(DeviceDescription device) =>
        $"sound device '{device.Label}' has one channel only: choose one that 'livestems devices' lists as stereo{SilentHint}";

    internal static string Ambiguous(string choice, IReadOnlyList<DeviceDescription> candidates)
    {
        IEnumerable<string> names = candidates.Take(MostCandidates).Select(device => $"{device.Index} {device.Label}");
        string more = candidates.Count > MostCandidates ? $" and {candidates.Count - MostCandidates} more" : string.Empty;
        return $"'{choice}' fits {candidates.Count} sound devices: {string.Join(", ", names)}{more}; give the number or more of the name";
    }

    internal static string Busy(DeviceDescription device) =>
        $"sound device '{device.Label}' is busy or gone: close the program that uses it or choose another";

    internal static string RefusedRates(DeviceDescription device, int wantedRate) =>
        $"sound device '{device.Label}' runs at neither {wantedRate} Hz nor {device.DefaultSampleRate} Hz: choose another device";

    internal static string DoesNotOpen(DeviceDescription device, string cause) =>
        $"sound device '{device.Label}' does not open ({cause}): choose another device";

    internal static string DoesNotStart(string label, string cause) =>
        $"sound device '{label}' does not start ({cause}): choose another device";

    internal static string LibraryFails(string cause) =>
        $"the sound library does not start ({cause}): restart the sound server";

    internal static string HasMoved(DeviceDescription device) =>
        $"sound device '{device.Label}' is not where it was any more: list the devices again";
}

/// <summary>Systems whose words differ.</summary>
internal enum SystemFamily
{
    Linux,
    MacOS,
    Windows,
}
