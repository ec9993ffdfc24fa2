using System.Diagnostics;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class SilentDeviceTests
{
    private const int Rate = 48_000;
    private const int Frames = 480;
    private const double PeriodSeconds = (double)Frames / Rate;
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    [Fact]
    public void ItKeepsTheTimeOfTheSystem()
    {
        using SilentDevice device = new(new DeviceSettings(Rate, Frames));
        using TimingRenderer renderer = new(device.Statistics, calls: 100);
        double before = TimingRenderer.Seconds;
        device.Start(renderer);
        Assert.True(renderer.Wait(Patience));
        device.Stop();

        // However the system delays its thread: no call comes before it is due, counted from before the start, and each
        // comes before the buffers that waited are played, counted from the first call, which is after the start.
        for (int call = 0; call < 99; call++)
        {
            Assert.True(renderer.Times[call] - before >= renderer.Periods[call] * PeriodSeconds);
            Assert.True(renderer.Times[call] - renderer.Times[0] <= (renderer.Periods[call + 1] + new DeviceSettings(Rate, Frames).WaitingBuffers(Rate) - 1) * PeriodSeconds);
        }
    }

    [Fact]
    public void ItsThreadAllocatesNothing()
    {
        using SilentDevice device = new(new DeviceSettings(Rate, 64));
        using AllocationRenderer renderer = new(warmUpCalls: 50, measuredCalls: 200);
        device.Start(renderer);
        Assert.True(renderer.Wait(Patience));
        device.Stop();
        Assert.Equal(0, renderer.AllocatedBytes);
    }

    [Fact]
    public void ARendererThatThrowsIsCountedAndTheDeviceGoesOn()
    {
        using SilentDevice device = new(new DeviceSettings(Rate, 64));
        device.Start(new ThrowingRenderer());
        Assert.True(SpinWait.SpinUntil(() => device.Statistics.Faults >= 3, Patience));
        device.Stop();
        Assert.Equal("the harbour bell is out of tune", device.Statistics.LastFault?.Message);
        Assert.True(device.IsAlive);
    }

    [Fact]
    public void AfterStoppingNothingIsAskedForAndItCanStartAgain()
    {
        using SilentDevice device = new(new DeviceSettings(Rate, 64));
        CountingRenderer renderer = new();
        device.Start(renderer);
        Assert.True(SpinWait.SpinUntil(() => renderer.Frames > 0, Patience));
        device.Stop();
        long frames = renderer.Frames;
        long calls = device.Statistics.Calls;
        Assert.Equal(frames / 64, calls);

        device.Start(renderer);
        Assert.True(SpinWait.SpinUntil(() => renderer.Frames > frames, Patience));
    }

    [Fact]
    public void ItsThreadSaysHowTheSystemRanksIt()
    {
        using SilentDevice device = new(new DeviceSettings(Rate, 64));
        CountingRenderer renderer = new();
        device.Start(renderer);
        Assert.True(SpinWait.SpinUntil(() => renderer.Frames > 0, Patience));
        Assert.NotEqual(AudioThreadPriority.Unknown, device.Statistics.Priority);
        Assert.NotEqual(AudioThreadPriority.BySoundSystem, device.Statistics.Priority);
    }

    [Fact]
    public void WhatItPlaysCanBeCaptured()
    {
        using SilentDevice device = new(new DeviceSettings(Rate, 64));
        CapturingRenderer capture = new(new CountingRenderer(), capacity: 100);
        device.Start(capture);
        Assert.True(SpinWait.SpinUntil(() => capture.CapturedFrames == 100, Patience));
        device.Stop();
        Assert.Equal(Enumerable.Range(0, 100).Select(frame => (float)frame), capture.Left.ToArray());
        Assert.Equal(Enumerable.Range(0, 100).Select(frame => -(float)frame), capture.Right.ToArray());
    }

    [Fact]
    public void ItIsOpenedByName()
    {
        OpenedDevice opened = AudioDevices.Open("silent", new DeviceSettings(44_100, 128));
        using IAudioDevice device = opened.Device;
        Assert.Equal("silent device: 44100 Hz, 128 frames, latency 20.3 ms, as asked", opened.Summary);
    }

    /// <summary>Notes when it is called, and how many periods the device has counted before.</summary>
    private sealed class TimingRenderer(AudioStatistics statistics, int calls) : IAudioRenderer, IDisposable
    {
        private readonly ManualResetEventSlim done = new();
        private int count;

        public static double Seconds => (double)Stopwatch.GetTimestamp() / Stopwatch.Frequency;

        public double[] Times { get; } = new double[calls];

        public long[] Periods { get; } = new long[calls];

        public bool Wait(TimeSpan limit) => done.Wait(limit);

        public void Render(Span<float> left, Span<float> right)
        {
            if (count < calls)
            {
                Times[count] = Seconds;
                Periods[count] = count + statistics.Underruns;
                count++;
                if (count == calls)
                {
                    done.Set();
                }
            }
        }

        public void Dispose() => done.Dispose();
    }
}
