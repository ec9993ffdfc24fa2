using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using Xunit;

namespace LiveStems.Conformance.Devices;

/// <summary>
/// The whole way of live sound: stems, chains, song bus, monitor, PortAudio, ALSA's default device, PulseAudio; recorded at the
/// sink's monitor. The sink takes 32-bit floats, so the recording is the offline render to the bit.
/// </summary>
[Collection(SoundServerUse.Name)]
public class MonitoredSongTests(SoundServer server)
{
    private const int Attempts = 5;
    private const double PlayedSeconds = 3.5;

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    [Theory]
    [InlineData(256)]
    [InlineData(1024)]
    public void RecordingEqualsTheOfflineRenderOfWhatTheMonitorPlaysBitForBit(int bufferFrames)
    {
        server.Begin();
        using MonitoredSong song = new();

        // A machine too busy to play counts what it missed; such a run says nothing about the sound.
        for (int attempt = 1; ; attempt++)
        {
            AudioDevices.Refresh();
            using IAudioDevice device = AudioDevices.Open("default", new DeviceSettings(SoundServer.SampleRate, bufferFrames, BufferedSeconds: 0.5)).Device;
            (float[] recording, int silentFrames, PlayerState end) = Play(device, song);
            bool isWhole = device.Statistics.Underruns == 0 && end.MissedFrames == 0 && end.LoadDrops.Music == 0;
            if (isWhole || attempt == Attempts)
            {
                Assert.True(isWhole, $"{device.Statistics.Underruns} underruns, {end.MissedFrames} frames late, {end.LoadDrops.Music} times overloaded");
                AssertIsHeard(song, silentFrames, recording);
                return;
            }
        }
    }

    [Fact]
    public void RatesThatTheDeviceAcceptsAreThoseItOpensAt()
    {
        server.Begin();
        AudioDevices.Refresh();
        DeviceDescription device = Assert.Single(AudioDevices.List().Devices);
        IReadOnlyList<int>? accepted = AudioDevices.AcceptedRates(device);
        Assert.NotNull(accepted);
        Assert.Contains(SoundServer.SampleRate, accepted);
        Assert.All(accepted, rate =>
        {
            using IAudioDevice opened = AudioDevices.Open("default", new DeviceSettings(rate)).Device;
            Assert.Equal(rate, opened.SampleRate);
        });
    }

    private static void AssertIsHeard(MonitoredSong song, int silentFrames, float[] recording)
    {
        (float[] left, float[] right) = song.Heard(silentFrames);
        int first = FirstSound(left, right);
        int start = StartOf(recording, left[first], right[first]);
        Assert.True(start >= 0, "the first frame of the song is not in the recording");
        Assert.InRange(left.Max(MathF.Abs), 0.1f, MathF.Pow(10, -14 / 20f) * 1.0002f);
        for (int frame = first; frame < left.Length; frame++)
        {
            int place = start + (2 * (frame - first));
            Assert.True(
                left[frame] == recording[place] && right[frame] == recording[place + 1],
                $"frame {frame - first} of the sound: {recording[place]}, {recording[place + 1]} instead of {left[frame]}, {right[frame]}");
        }
    }

    private static int FirstSound(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
    {
        int first = 0;
        while (left[first] == 0 && right[first] == 0)
        {
            first++;
        }

        return first;
    }

    private static int StartOf(float[] recording, float left, float right)
    {
        for (int i = 0; i < recording.Length; i += 2)
        {
            if (recording[i] == left && recording[i + 1] == right)
            {
                return i;
            }
        }

        return -1;
    }

    // The recording, the frames of silence that the monitor had before the song, and how the player was at the end.
    private (float[] Recording, int SilentFrames, PlayerState End) Play(IAudioDevice device, MonitoredSong song)
    {
        using SinkRecording recording = server.Record();
        CapturingRenderer? captured = null;
        PlayerState end;
        using (LivePlayer player = new(device, BuiltInProcessors.Catalogue, renderer => captured = new CapturingRenderer(renderer, 60 * SoundServer.SampleRate)))
        {
            player.SetMonitor(MonitoredSong.Settings);
            player.Show(song.Song, song.Folder);
            RunFor(player, device, 1);
            player.Play();
            RunFor(player, device, PlayedSeconds);
            end = player.Look();
        }

        long played = recording.Length;
        const long SecondOfBytes = SoundServer.SampleRate * 2 * sizeof(float);
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                Thread.Sleep(10);
                return recording.Length > played + SecondOfBytes;
            },
            Patience));
        (float[] left, float[] right) = song.Heard(0);
        int before = FirstSound(captured!.Left, captured.Right) - FirstSound(left, right);
        return (recording.Read(), before, end);
    }

    private static void RunFor(LivePlayer player, IAudioDevice device, double seconds)
    {
        long until = device.Statistics.Calls + (long)(seconds * device.SampleRate / device.BufferFrames);
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                player.Update();
                Thread.Sleep(10);
                return device.Statistics.Calls >= until;
            },
            Patience));
    }
}
