using LiveStems.Engine.Devices;

namespace LiveStems.Tests.Engine.Devices;

/// <summary>A system with two devices and the silent one; "Front desk" is its default.</summary>
internal sealed class ListedDevices : IDeviceSource
{
    private readonly Lock gate = new();
    private readonly HashSet<string> broken = [];
    private readonly List<PlayedDevice> opened = [];
    private int asked;

    public static DeviceDescription FrontDesk { get; } = new(0, "Front desk", "ALSA", 2, 48_000, 0.01, 0.04, true);

    public static DeviceDescription Headphones { get; } = new(1, "Headphones", "ALSA", 2, 44_100, 0.005, 0.02, false);

    /// <summary>Times that the system was asked for its devices anew.</summary>
    public int Asked => Volatile.Read(ref asked);

    /// <summary>The device that was opened last.</summary>
    public PlayedDevice Latest
    {
        get
        {
            lock (gate)
            {
                return opened[^1];
            }
        }
    }

    /// <summary>Most devices that were open at a time.</summary>
    public int MostOpen { get; private set; }

    /// <summary>Has a device refuse to be opened.</summary>
    public void Break(string name)
    {
        lock (gate)
        {
            broken.Add(name);
        }
    }

    public DeviceList List(bool isAskedAnew)
    {
        _ = isAskedAnew ? Interlocked.Increment(ref asked) : 0;
        return new DeviceList([FrontDesk, Headphones], null);
    }

    public OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics)
    {
        DeviceDescription? found = choice switch
        {
            null => FrontDesk,
            AudioDevices.Silent => null,
            _ => DeviceChoice.Find(choice, List(isAskedAnew: false)),
        };
        PlayedDevice device = new(found?.Label ?? "silent device", found?.DefaultSampleRate ?? settings.SampleRate, settings.BufferFrames);
        lock (gate)
        {
            if (found is not null && broken.Contains(found.Name))
            {
                throw new AudioDeviceException($"sound device '{found.Label}' is busy or gone: close the program that uses it or choose another");
            }

            opened.Add(device);
            MostOpen = Math.Max(MostOpen, opened.Count(each => !each.IsDisposed));
        }

        return new OpenedDevice(device, found, choice is null ? "chosen as the system's default" : "as asked");
    }

    public IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics) => null;
}

/// <summary>A device that asks for sound when it is told to.</summary>
internal sealed class PlayedDevice(string name, int sampleRate, int bufferFrames) : IAudioDevice
{
    private readonly float[] left = new float[bufferFrames];
    private readonly float[] right = new float[bufferFrames];
    private IAudioRenderer? renderer;

    public string Name => name;

    public int SampleRate => sampleRate;

    public int BufferFrames => bufferFrames;

    public double LatencySeconds => 0.01;

    public bool IsAlive { get; set; } = true;

    public bool IsPlaying => renderer is not null;

    public bool IsDisposed { get; private set; }

    public AudioStatistics Statistics { get; } = new();

    public void Start(IAudioRenderer newRenderer) => renderer = newRenderer;

    public void Stop() => renderer = null;

    public void Dispose()
    {
        Stop();
        IsDisposed = true;
    }

    public void Ask() => renderer?.Render(left, right);
}
