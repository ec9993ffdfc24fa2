using LiveStems.Engine.Devices;
using LiveStems.Engine.RealTime;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>Knows the longest silence between two sounds, as the device gets it.</summary>
internal sealed class ListenedDevice(SilentDevice device) : IAudioDevice, IAudioRenderer
{
    private IAudioRenderer? source;
    private int silence;
    private bool hasSounded;

    public string Name => device.Name;

    public int SampleRate => device.SampleRate;

    public int BufferFrames => device.BufferFrames;

    public double LatencySeconds => device.LatencySeconds;

    public bool IsAlive => device.IsAlive;

    public AudioStatistics Statistics => device.Statistics;

    public int LongestSilence { get; private set; }

    /// <summary>True while there is sound.</summary>
    public bool IsSounding => hasSounded && Volatile.Read(ref silence) < SampleRate / 100;

    public void Start(IAudioRenderer renderer)
    {
        source = renderer;
        device.Start(this);
    }

    public void Stop() => device.Stop();

    public void Dispose() => device.Dispose();

    public void Render(Span<float> left, Span<float> right)
    {
        source!.Render(left, right);
        foreach (float sample in left)
        {
            // A tone is at most a few frames near zero.
            bool isSilent = Math.Abs(sample) < 1e-6f;
            if (!isSilent && hasSounded)
            {
                LongestSilence = Math.Max(LongestSilence, silence);
            }

            silence = isSilent ? silence + 1 : 0;
            hasSounded |= !isSilent;
        }
    }
}
