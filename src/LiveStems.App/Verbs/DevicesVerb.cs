using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.App.Terminal;
using LiveStems.Engine.Devices;

namespace LiveStems.App.Verbs;

/// <summary><c>devices</c>: sound devices.</summary>
internal static class DevicesVerb
{
    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Option<bool> json = CommonOptions.Json();
        Command verb = new("devices", "Lists the sound devices that 'play' can use.") { json };
        verb.AddExamples("livestems devices", "livestems devices --json");
        verb.SetAction(parsed =>
        {
            DeviceList list = AudioDevices.List();
            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, JsonOutput.Array(list.Devices.Select(ToJson)));
                return 0;
            }

            TextTable table = new("no", "device", "host", "channels", "rate Hz", "latency ms", string.Empty);
            foreach (DeviceDescription device in list.Devices)
            {
                table.Add(
                    device.Index.ToString(),
                    device.Name,
                    device.HostApi,
                    device.OutputChannels.ToString(),
                    $"{device.DefaultSampleRate:0}",
                    $"{device.LowLatencySeconds * 1000:0.0}–{device.HighLatencySeconds * 1000:0.0}",
                    device.IsDefault ? "default" : string.Empty);
            }

            table.Add(string.Empty, "silent", "–", "2", "any", string.Empty, list.Devices.Any(device => device.IsDefault) ? string.Empty : "default");
            table.WriteTo(output);
            if (list.Problem is not null)
            {
                output.WriteLine(list.Problem);
            }

            return 0;
        });
        return verb;
    }

    private static JsonObject ToJson(DeviceDescription device) => new()
    {
        ["index"] = device.Index,
        ["name"] = device.Name,
        ["hostApi"] = device.HostApi,
        ["channels"] = device.OutputChannels,
        ["defaultSampleRateHz"] = device.DefaultSampleRate,
        ["lowLatencySeconds"] = Numbers.Json(device.LowLatencySeconds, 6),
        ["highLatencySeconds"] = Numbers.Json(device.HighLatencySeconds, 6),
        ["isDefault"] = device.IsDefault,
    };
}
