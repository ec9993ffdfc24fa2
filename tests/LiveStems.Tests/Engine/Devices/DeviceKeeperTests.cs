using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public sealed class DeviceKeeperTests : IDisposable
{
    private static readonly DeviceSettings Settings = new(44_100, 64);
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly SteppedTime time = new();
    private readonly OneDeviceSource source = new();
    private readonly DeviceKeeper keeper;

    public DeviceKeeperTests() => keeper = new DeviceKeeper(null, Settings, source, time);

    public void Dispose()
    {
        keeper.Dispose();
        source.Dispose();
    }

    [Fact]
    public void ADeviceThatStaysPlays()
    {
        Assert.Equal(KeptDeviceState.Ready, keeper.Update());
        keeper.Start(new CountingRenderer());
        Assert.Equal(KeptDeviceState.Playing, keeper.Update());
        Assert.True(source.Current.IsPlaying);
        keeper.Stop();
        Assert.Equal(KeptDeviceState.Ready, keeper.Update());
        Assert.False(source.Current.IsPlaying);
    }

    [Fact]
    public void ALostDeviceIsToldClosedAndTakenBackWhenItReturns()
    {
        CountingRenderer renderer = new();
        keeper.Start(renderer);
        FakeDevice first = source.Current;
        source.IsThere = false;
        first.IsAlive = false;

        Assert.Equal(KeptDeviceState.Lost, keeper.Update());
        Assert.False(keeper.IsAlive);
        Assert.Equal("Front desk (ALSA) has gone: waiting for it to come back", keeper.Message);
        PassSearches(3);
        Assert.Equal(KeptDeviceState.Lost, keeper.State);
        Assert.True(first.IsDisposed);

        source.IsThere = true;
        PassSearches(2);
        Assert.Equal(KeptDeviceState.Returned, keeper.State);
        Assert.Equal("Front desk (ALSA) is back", keeper.Message);
        Assert.NotSame(first, source.Current);
        Assert.True(source.Current.IsPlaying);
        Assert.True(keeper.IsAlive);
        Assert.Equal(KeptDeviceState.Playing, keeper.Update());
    }

    [Fact]
    public void ADeviceThatReturnsButDoesNotStartIsTriedAgain()
    {
        keeper.Start(new CountingRenderer());
        source.CanStart = false;
        source.Current.IsAlive = false;
        Assert.Equal(KeptDeviceState.Lost, keeper.Update());
        PassSearches(1);
        Assert.Equal(KeptDeviceState.Lost, keeper.State);
        source.CanStart = true;
        PassSearches(2);
        Assert.Equal(KeptDeviceState.Returned, keeper.State);
    }

    [Fact]
    public void ASearchThatFailsUnexpectedlyIsRepeated()
    {
        keeper.Start(new CountingRenderer());
        source.Fails = true;
        source.Current.IsAlive = false;
        Assert.Equal(KeptDeviceState.Lost, keeper.Update());
        PassSearches(2);
        Assert.Equal(KeptDeviceState.Lost, keeper.State);
        source.Fails = false;
        PassSearches(2);
        Assert.Equal(KeptDeviceState.Returned, keeper.State);
    }

    [Fact]
    public void SearchesAreASecondApart()
    {
        keeper.Start(new CountingRenderer());
        source.IsThere = false;
        source.Current.IsAlive = false;
        keeper.Update();
        Assert.True(SpinWait.SpinUntil(() => source.Searches == 1, Patience));
        time.Now += TimeSpan.FromSeconds(0.9);
        for (int i = 0; i < 100; i++)
        {
            keeper.Update();
        }

        Assert.Equal(1, source.Searches);
    }

    [Fact]
    public void StoppedWhileLostItReturnsWithoutPlaying()
    {
        keeper.Start(new CountingRenderer());
        source.Current.IsAlive = false;
        keeper.Update();
        keeper.Stop();
        PassSearches(2);
        Assert.Equal(KeptDeviceState.Returned, keeper.State);
        Assert.False(source.Current.IsPlaying);
        Assert.Equal(KeptDeviceState.Ready, keeper.Update());
    }

    [Fact]
    public void ADeviceAtAnotherRateGetsTheSoundConverted()
    {
        // The fake device runs at 48 kHz: its 640 frames are 588 at 44.1 kHz, and the filter looks ahead.
        CountingRenderer renderer = new();
        keeper.Start(renderer);
        Assert.Equal(44_100, keeper.SampleRate);
        Assert.Equal(48_000, keeper.DeviceSampleRate);
        for (int i = 0; i < 10; i++)
        {
            source.Current.Ask();
        }

        Assert.InRange(renderer.Frames, 588, 588 + 182);
        Assert.InRange(renderer.LongestCall, 1, 64);
        Assert.Equal(0.01 + ((renderer.Frames - 588) / 44_100.0), keeper.LatencySeconds, 1e-9);
    }

    // Each search ends before the next may begin.
    private void PassSearches(int count)
    {
        for (int i = 0; i < count && keeper.State == KeptDeviceState.Lost; i++)
        {
            int begun = source.Searches;
            time.Now += TimeSpan.FromSeconds(1);
            Assert.True(SpinWait.SpinUntil(
                () => keeper.Update() != KeptDeviceState.Lost || source.Searches > begun, Patience));
        }
    }

    private sealed class SteppedTime : TimeProvider
    {
        public TimeSpan Now { get; set; }

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;

        public override long GetTimestamp() => Now.Ticks;
    }

    private sealed class OneDeviceSource : IDeviceSource, IDisposable
    {
        private static readonly DeviceDescription Desk = new(0, "Front desk", "ALSA", 2, 48_000, 0.01, 0.04, true);

        private volatile FakeDevice current = new(true);
        private volatile bool isThere = true;
        private volatile bool canStart = true;
        private volatile bool fails;
        private volatile int searches;

        public FakeDevice Current => current;

        public bool IsThere
        {
            set => isThere = value;
        }

        public bool CanStart
        {
            set => canStart = value;
        }

        public bool Fails
        {
            set => fails = value;
        }

        public int Searches => searches;

        public void Dispose() => current.Dispose();

        public DeviceList List(bool isAskedAnew) => new([Desk], null);

        public OpenedDevice Open(string? choice, DeviceSettings settings, AudioStatistics statistics) =>
            new(current, Desk, "as asked");

        public IAudioDevice? Reopen(DeviceDescription description, DeviceSettings settings, AudioStatistics statistics)
        {
            try
            {
                Assert.Equal(Desk, description);
                if (fails)
                {
                    throw new InvalidOperationException("the library has a fault");
                }

                return isThere ? current = new FakeDevice(canStart) : null;
            }
            finally
            {
                searches++;
            }
        }
    }

    private sealed class FakeDevice(bool canStart) : IAudioDevice
    {
        private readonly float[] left = new float[64];
        private readonly float[] right = new float[64];
        private IAudioRenderer? renderer;

        public string Name => "Front desk (ALSA)";

        public int SampleRate => 48_000;

        public int BufferFrames => 64;

        public double LatencySeconds => 0.01;

        public bool IsAlive { get; set; } = true;

        public bool IsPlaying => renderer is not null;

        public bool IsDisposed { get; private set; }

        public AudioStatistics Statistics { get; } = new();

        public void Start(IAudioRenderer renderer) =>
            this.renderer = canStart ? renderer : throw new AudioDeviceException("does not start");

        public void Stop() => renderer = null;

        public void Dispose() => IsDisposed = true;

        public void Ask() => renderer?.Render(left, right);
    }
}
