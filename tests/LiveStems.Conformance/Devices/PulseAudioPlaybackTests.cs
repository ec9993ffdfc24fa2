using LiveStems.Engine.Devices;
using LiveStems.Engine.Devices.PortAudio;
using Xunit;

namespace LiveStems.Conformance.Devices;

/// <summary>
/// Sound through PortAudio, ALSA's default device and PulseAudio, recorded at the sink's monitor by PulseAudio's own
/// recorder.
/// </summary>
[Collection(SoundServerUse.Name)]
public class PulseAudioPlaybackTests(SoundServer server)
{
    private const int NoiseFrames = 2 * SoundServer.SampleRate;
    private const int SilentFrames = SoundServer.SampleRate;
    private const int Attempts = 5;

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    [Theory]
    [InlineData(64)]
    [InlineData(256)]
    [InlineData(4096)]
    public void TheRecordingEqualsWhatWasRenderedBitForBitWithoutGaps(int bufferFrames)
    {
        server.Begin();
        DeviceSettings settings = new(SoundServer.SampleRate, bufferFrames, BufferedSeconds: 0.5);

        // A machine too busy to play has its underruns counted; such a run says nothing about the sound.
        for (int attempt = 1; ; attempt++)
        {
            AudioDevices.Refresh();
            using IAudioDevice device = AudioDevices.Open("default", settings).Device;
            Assert.Equal(SoundServer.SampleRate, device.SampleRate);
            float[] recording = Play(device);
            if (device.Statistics.Underruns == 0 || attempt == Attempts)
            {
                Assert.Equal(0, device.Statistics.Underruns);
                Assert.Equal(0, device.Statistics.Faults);
                AssertIsTheNoise(recording);
                return;
            }
        }
    }

    [Fact]
    public void TheDeviceIsListedAndChosenByItself()
    {
        server.Begin();
        AudioDevices.Refresh();
        DeviceList list = AudioDevices.List();
        Assert.Null(list.Problem);
        DeviceDescription description = Assert.Single(list.Devices);
        Assert.Equal("default (ALSA)", description.Label);
        Assert.True(description.IsDefault);
        Assert.True(description.IsStereo);
        Assert.InRange(description.LowLatencySeconds, 0.0001, description.HighLatencySeconds);

        OpenedDevice opened = AudioDevices.Open(null, new DeviceSettings(44_100));
        using IAudioDevice device = opened.Device;
        Assert.IsType<PortAudioDevice>(device);
        Assert.Equal("chosen as the system's default", opened.Reason);
        Assert.Equal(44_100, device.SampleRate);
        Assert.Equal(DeviceSettings.UsualBufferFrames, device.BufferFrames);
        Assert.False(AudioDevices.Refresh());
    }

    [Fact]
    public void WithoutAServerTheSilentDeviceIsChosenAndSaysWhy()
    {
        server.Begin();
        server.Kill();
        AudioDevices.Refresh();
        OpenedDevice opened = AudioDevices.Open(null, new DeviceSettings(48_000));
        using IAudioDevice device = opened.Device;
        Assert.IsType<SilentDevice>(device);
        Assert.Equal("because no sound device was found: connect one or start the sound server", opened.Reason);
        Assert.Equal(
            "sound device 'default' cannot be used: no sound device was found: connect one or start the sound server, or use --device silent",
            Assert.Throws<AudioDeviceException>(() => AudioDevices.Open("default", new DeviceSettings(48_000))).Message);
    }

    [Fact]
    public void ADeviceThatVanishesIsLostAndTakenBackWhenItReturns()
    {
        server.Begin();
        AudioDevices.Refresh();
        NoiseRenderer renderer = new(0, int.MaxValue);
        using DeviceKeeper keeper = new("default", new DeviceSettings(SoundServer.SampleRate));
        keeper.Start(renderer);
        AssertComes(() => renderer.Frames > 0);
        server.Kill();
        AssertComes(() => keeper.Update() == KeptDeviceState.Lost);
        long frames = renderer.Frames;

        server.Start();
        AssertComes(() => keeper.Update() == KeptDeviceState.Returned);
        Assert.Equal("default (ALSA) is back", keeper.Message);
        AssertComes(() => renderer.Frames > frames);
        keeper.Stop();
        Assert.Equal(KeptDeviceState.Ready, keeper.Update());
    }

    [Fact]
    public void AnotherDeviceIsTakenAndTheFirstAgainWhileTheMusicGoesOn()
    {
        server.Begin();
        AudioDevices.Refresh();
        NoiseRenderer renderer = new(0, int.MaxValue);
        using DeviceKeeper keeper = new(AudioDevices.Silent, new DeviceSettings(SoundServer.SampleRate));
        keeper.Start(renderer);
        AssertComes(() => renderer.Frames > 0);
        keeper.Change("default", 512);
        AssertComes(() => keeper.Update() == KeptDeviceState.Playing);
        Assert.Null(keeper.Fault);
        Assert.StartsWith($"default (ALSA): {SoundServer.SampleRate} Hz, 512 frames", keeper.Message, StringComparison.Ordinal);
        Assert.Contains(keeper.Devices().Devices, device => device == keeper.Description);
        long frames = renderer.Frames;
        AssertComes(() => renderer.Frames > frames);
        keeper.Change(AudioDevices.Silent, 256);
        AssertComes(() => keeper.Update() == KeptDeviceState.Playing);
        frames = renderer.Frames;
        AssertComes(() => renderer.Frames > frames);
        keeper.Stop();
        Assert.Equal(KeptDeviceState.Ready, keeper.Update());
    }

    [Fact]
    public void TheAudioThreadAllocatesNothing()
    {
        server.Begin();
        AudioDevices.Refresh();
        using IAudioDevice device = AudioDevices.Open("default", new DeviceSettings(SoundServer.SampleRate, 64)).Device;
        AllocationRenderer renderer = new();
        device.Start(renderer);
        AssertComes(() => renderer.Calls > 1000);
        device.Stop();
        Assert.Equal(0, renderer.AllocatedBytes);
        Assert.True(device.Statistics.Calls >= renderer.Calls);
        Assert.True(device.Statistics.Priority is AudioThreadPriority.RealTime or AudioThreadPriority.Normal);
    }

    private static void AssertComes(Func<bool> condition) => Assert.True(
        SpinWait.SpinUntil(
            () =>
            {
                Thread.Sleep(10);
                return condition();
            },
            Patience));

    private static void AssertIsTheNoise(float[] recording)
    {
        int start = StartOf(recording);
        Assert.True(start >= 0, "the first frame of the noise is not in the recording");
        for (int frame = 0; frame < NoiseFrames; frame++)
        {
            for (int channel = 0; channel < 2; channel++)
            {
                float expected = NoiseRenderer.Sample(frame, channel);
                float recorded = recording[start + (2 * frame) + channel];
                Assert.True(expected == recorded, $"frame {frame}, channel {channel}: {recorded} instead of {expected}");
            }
        }
    }

    private static int StartOf(float[] recording)
    {
        for (int i = 0; i < recording.Length; i += 2)
        {
            if (recording[i] == NoiseRenderer.Sample(0, 0) && recording[i + 1] == NoiseRenderer.Sample(0, 1))
            {
                return i;
            }
        }

        return -1;
    }

    // A monitor that already records a sink misses the first 50 ms that a new stream mixes into what it has sent before,
    // and a server holds more than its latency says: silence surrounds the noise.
    private float[] Play(IAudioDevice device)
    {
        using SinkRecording recording = server.Record();
        NoiseRenderer renderer = new(SilentFrames, NoiseFrames);
        device.Start(renderer);
        AssertComes(() => renderer.Frames > SilentFrames + NoiseFrames + SilentFrames);
        device.Stop();
        long played = recording.Length;
        const long SecondOfBytes = SoundServer.SampleRate * 2 * sizeof(float);
        AssertComes(() => recording.Length > played + SecondOfBytes);
        return recording.Read();
    }

    private sealed class AllocationRenderer : IAudioRenderer
    {
        private long before = -1;
        private long calls;

        public long Calls => Volatile.Read(ref calls);

        public long AllocatedBytes { get; private set; }

        public void Render(Span<float> left, Span<float> right)
        {
            left.Clear();
            right.Clear();
            long now = GC.GetAllocatedBytesForCurrentThread();
            before = before < 0 ? now : before;
            AllocatedBytes = now - before;
            Volatile.Write(ref calls, calls + 1);
        }
    }
}
