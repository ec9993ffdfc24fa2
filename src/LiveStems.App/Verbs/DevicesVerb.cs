using System.CommandLine;
using System.Globalization;
using System.Text.Json.Nodes;
using LiveStems.App.Terminal;
using LiveStems.Engine.Devices;

namespace LiveStems.App.Verbs;

/// <summary><c>devices</c>: sound devices.</summary>
internal static class DevicesVerb
{
    /// <summary>Asks a device for the rates it accepts; null when it cannot be asked.</summary>
    public delegate IReadOnlyList<int>? RatesOf(DeviceDescription device);

    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Option<bool> json = CommonOptions.Json();
        Command verb = new("devices", "Lists the sound devices that 'play' can use, and the rates they accept.") { json };
        verb.AddExamples("livestems devices", "livestems devices --json");
        verb.SetAction(parsed =>
        {
            DeviceList list = AudioDevices.List();
            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, Json(list, AudioDevices.AcceptedRates));
            }
            else
            {
                Write(list, AudioDevices.AcceptedRates, output);
            }

            return 0;
        });
        return verb;
    }

    /// <summary>The list for people.</summary>
    public static void Write(DeviceList list, RatesOf ratesOf, TextWriter output)
    {
        TextTable table = new("no", "device", "host", "channels", "own rate Hz", "accepts kHz", "latency ms", string.Empty);
        foreach (DeviceDescription device in list.Devices)
        {
            table.Add(
                device.Index.ToString(CultureInfo.InvariantCulture),
                device.Name,
                device.HostApi,
                device.OutputChannels.ToString(CultureInfo.InvariantCulture),
                $"{device.DefaultSampleRate:0}",
                Kilohertz(ratesOf(device)),
                $"{device.LowLatencySeconds * 1000:0.0}–{device.HighLatencySeconds * 1000:0.0}",
                device.IsDefault ? "default" : string.Empty);
        }

        table.Add(string.Empty, AudioDevices.Silent, "–", "2", "any", "any", string.Empty, IsSilentDefault(list) ? "default" : string.Empty);
        table.WriteTo(output);
        if (list.Problem is not null)
        {
            output.WriteLine(list.Problem);
        }
    }

    /// <summary>The list for programs; the silent device stands last, with what keeps the others away.</summary>
    public static JsonArray Json(DeviceList list, RatesOf ratesOf) =>
        JsonOutput.Array(list.Devices.Select(device => ToJson(device, ratesOf(device))).Append(SilentJson(list)));

    private static JsonObject ToJson(DeviceDescription device, IReadOnlyList<int>? rates) => new()
    {
        ["index"] = device.Index,
        ["name"] = device.Name,
        ["hostApi"] = device.HostApi,
        ["channels"] = device.OutputChannels,
        ["defaultSampleRateHz"] = device.DefaultSampleRate,
        ["acceptedSampleRatesHz"] = rates is null ? null : JsonOutput.Array(rates.Select(rate => (JsonNode)rate)),
        ["lowLatencySeconds"] = Numbers.Json(device.LowLatencySeconds, 6),
        ["highLatencySeconds"] = Numbers.Json(device.HighLatencySeconds, 6),
        ["isDefault"] = device.IsDefault,
    };

    // It has no number, takes every rate, and waits for nobody.
    private static JsonObject SilentJson(DeviceList list) => new()
    {
        ["index"] = null,
        ["name"] = AudioDevices.Silent,
        ["hostApi"] = null,
        ["channels"] = 2,
        ["defaultSampleRateHz"] = null,
        ["acceptedSampleRatesHz"] = null,
        ["lowLatencySeconds"] = null,
        ["highLatencySeconds"] = null,
        ["isDefault"] = IsSilentDefault(list),
        ["problem"] = list.Problem,
    };

    // What is chosen where nobody chooses.
    private static bool IsSilentDefault(DeviceList list) => !list.Devices.Any(device => device.IsStereo);

    private static string Kilohertz(IReadOnlyList<int>? rates) => rates switch
    {
        null => "in use",
        [] => "none",
        _ => string.Join(' ', rates.Select(rate => (rate / 1000.0).ToString("0.###", CultureInfo.InvariantCulture))),
    };
}
