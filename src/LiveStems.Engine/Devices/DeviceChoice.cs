using System.Globalization;

namespace LiveStems.Engine.Devices;

/// <summary>Which device a user means.</summary>
internal static class DeviceChoice
{
    /// <summary>Is it the silent device?</summary>
    internal static bool IsSilent(string? choice) => string.Equals(choice, AudioDevices.Silent, StringComparison.OrdinalIgnoreCase);

    /// <summary>The system's default, else the first that plays stereo; null if there is none.</summary>
    internal static DeviceDescription? Automatic(IReadOnlyList<DeviceDescription> devices) =>
        devices.FirstOrDefault(device => device is { IsDefault: true, IsStereo: true })
        ?? devices.FirstOrDefault(device => device.IsStereo);

    /// <summary>
    /// The device of this number; else the one of this name; else the only one whose name and host API contain the text;
    /// else the only one that contains all its words. Capitals do not count.
    /// </summary>
    /// <exception cref="AudioDeviceException">None or several fit, or it is not stereo.</exception>
    internal static DeviceDescription Find(string choice, DeviceList list)
    {
        if (list.Problem is not null)
        {
            throw new AudioDeviceException(DeviceTexts.Unavailable(choice, list.Problem));
        }

        DeviceDescription device = ByNumber(choice, list.Devices) ?? ByName(choice, list.Devices);
        return device.IsStereo ? device : throw new AudioDeviceException(DeviceTexts.NotStereo(device));
    }

    private static DeviceDescription? ByNumber(string choice, IReadOnlyList<DeviceDescription> devices) =>
        int.TryParse(choice, NumberStyles.None, CultureInfo.InvariantCulture, out int index)
            ? devices.FirstOrDefault(device => device.Index == index)
            : null;

    private static DeviceDescription ByName(string choice, IReadOnlyList<DeviceDescription> devices)
    {
        string text = choice.Trim();
        string[] words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Func<DeviceDescription, bool>[] fits =
        [
            device => Same(device.Name, text) || Same(device.Label, text),
            device => Contains(device, text),
            device => words.All(word => Contains(device, word)),
        ];
        List<DeviceDescription> found = words.Length == 0
            ? []
            : fits.Select(fit => devices.Where(fit).ToList()).FirstOrDefault(candidates => candidates.Count > 0) ?? [];
        return found.Count switch
        {
            0 => throw new AudioDeviceException(DeviceTexts.Unknown(choice)),
            1 => found[0],
            _ => throw new AudioDeviceException(DeviceTexts.Ambiguous(choice, found)),
        };
    }

    private static bool Same(string name, string text) => name.Equals(text, StringComparison.OrdinalIgnoreCase);

    private static bool Contains(DeviceDescription device, string text) =>
        device.Label.Contains(text, StringComparison.OrdinalIgnoreCase);
}
