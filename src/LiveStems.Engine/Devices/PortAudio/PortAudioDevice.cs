using System.Diagnostics;
using System.Runtime.InteropServices;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>A stereo output through the PortAudio library. One control thread at a time.</summary>
public sealed unsafe class PortAudioDevice : IAudioDevice
{
    // A device that does not ask for this long is gone; sound servers take their time at first.
    private const double LongestSilenceSeconds = 1;
    private const double StartingSeconds = 3;

    private readonly OutputCallback callback;
    private readonly GCHandle userData;
    private nint stream;
    private bool isStarted;
    private long startTime;

    private PortAudioDevice(
        DeviceDescription device, DeviceSettings settings, AudioStatistics statistics, OutputCallback callback, GCHandle userData, nint stream)
    {
        Name = device.Label;
        WantedSampleRate = settings.SampleRate;
        BufferFrames = settings.BufferFrames;
        Statistics = statistics;
        this.callback = callback;
        this.userData = userData;
        this.stream = stream;
        StreamInfo* info = PortAudioLibrary.GetStreamInfo(stream);
        SampleRate = (int)Math.Round(info->SampleRate);
        LatencySeconds = info->OutputLatency;
    }

    /// <inheritdoc/>
    public string Name { get; }

    /// <summary>The rate that was asked for, in hertz. Where the device refuses it, <see cref="SampleRate"/> is the device's own.</summary>
    public int WantedSampleRate { get; }

    /// <inheritdoc/>
    public int SampleRate { get; }

    /// <inheritdoc/>
    public int BufferFrames { get; }

    /// <inheritdoc/>
    public double LatencySeconds { get; }

    /// <inheritdoc/>
    public bool IsAlive => stream != 0 && (!isStarted || (PortAudioLibrary.IsStreamActive(stream) == 1 && IsAsking));

    /// <inheritdoc/>
    public AudioStatistics Statistics { get; }

    private bool IsAsking
    {
        get
        {
            bool isStarting = Stopwatch.GetElapsedTime(startTime).TotalSeconds < StartingSeconds;
            double allowed = isStarting ? StartingSeconds : LongestSilenceSeconds + (2 * LatencySeconds);
            return Stopwatch.GetElapsedTime(callback.LastCall).TotalSeconds < allowed;
        }
    }

    /// <summary>Opens a device at the rate wanted, else at its own; null, and one line that says why, if neither works.</summary>
    internal static PortAudioDevice? TryOpen(
        DeviceDescription device, DeviceSettings settings, AudioStatistics statistics, out string fault)
    {
        OutputCallback.Warm();
        OutputCallback callback = new(settings.BufferFrames, statistics);
        GCHandle userData = GCHandle.Alloc(callback);
        int error = RateFallback.Open(settings.SampleRate, device.DefaultSampleRate, OpenAt, out nint stream);
        if (error == PortAudioError.None)
        {
            fault = string.Empty;
            return new PortAudioDevice(device, settings, statistics, callback, userData, stream);
        }

        userData.Free();
        fault = error switch
        {
            PortAudioError.DeviceUnavailable => DeviceTexts.Busy(device),
            PortAudioError.InvalidSampleRate => DeviceTexts.RefusedRates(device, settings.SampleRate),
            PortAudioError.InvalidDevice => DeviceTexts.HasMoved(device),
            _ => DeviceTexts.DoesNotOpen(device, PortAudioSession.ErrorText(error)),
        };
        return null;

        int OpenAt(int sampleRate, out nint opened) =>
            PortAudioSession.Open(device, sampleRate, settings, GCHandle.ToIntPtr(userData), out opened);
    }

    /// <inheritdoc/>
    public void Start(IAudioRenderer renderer)
    {
        ObjectDisposedException.ThrowIf(stream == 0, this);
        Stop();
        callback.Begin(renderer, SampleRate);
        startTime = Stopwatch.GetTimestamp();
        int error = PortAudioLibrary.StartStream(stream);
        if (error != PortAudioError.None)
        {
            callback.End();
            throw new AudioDeviceException(DeviceTexts.DoesNotStart(Name, PortAudioSession.ErrorText(error)) + DeviceTexts.SilentHint);
        }

        isStarted = true;
    }

    /// <summary>Stops when what was rendered has been heard; the renderer is asked no more from the beginning.</summary>
    public void Stop()
    {
        if (!isStarted)
        {
            return;
        }

        callback.End();
        if (IsAlive)
        {
            // Some host APIs drop what they hold in spite of the library's promise: let silence follow until it is played.
            Thread.Sleep(TimeSpan.FromSeconds(LatencySeconds));
            _ = PortAudioLibrary.StopStream(stream);
        }
        else
        {
            _ = PortAudioLibrary.AbortStream(stream);
        }

        isStarted = false;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (stream == 0)
        {
            return;
        }

        Stop();
        PortAudioSession.Close(stream);
        stream = 0;
        userData.Free();
    }
}
