using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class FadingRendererTests
{
    private const int Fade = 480;

    private readonly float[] left = new float[1000];
    private readonly float[] right = new float[1000];

    [Fact]
    public void WhatBeginsAnewIsHeardAsItIs()
    {
        FadingRenderer fading = new(new SteadyRenderer(), Fade, fadesIn: false);
        fading.Render(left, right);
        Assert.All(left, sample => Assert.Equal(1, sample));
        Assert.False(fading.HasLeft);
    }

    [Fact]
    public void WhatComesBackFadesInWithoutAStep()
    {
        FadingRenderer fading = new(new SteadyRenderer(), Fade, fadesIn: true);
        fading.Render(left, right);
        AssertSmooth(0, left);
        Assert.Equal(1, left[Fade]);
        Assert.Equal(-1, right[Fade]);
    }

    [Fact]
    public void BeforeItsDeviceStopsItFadesOutAndAsksNoMore()
    {
        SteadyRenderer source = new();
        FadingRenderer fading = new(source, Fade, fadesIn: false);
        fading.Render(left, right);
        fading.Leave();
        fading.Render(left.AsSpan(0, 200), right.AsSpan(0, 200));
        Assert.False(fading.HasLeft);
        fading.Render(left.AsSpan(200), right.AsSpan(200));
        AssertSmooth(1, left);
        Assert.All(left.Skip(Fade), sample => Assert.Equal(0, sample));
        Assert.True(fading.HasLeft);
        int calls = source.Calls;
        fading.Render(left, right);
        Assert.Equal(calls, source.Calls);
        Assert.All(left, sample => Assert.Equal(0, sample));
    }

    [Fact]
    public void ASilentDeviceGetsTheFadeBeforeItIsStopped()
    {
        using SilentDevice device = new(new DeviceSettings(48_000, 64));
        FadingRenderer fading = FadingRenderer.Of(new SteadyRenderer(), new DeviceSettings(48_000, 64), device, fadesIn: true);
        device.Start(fading);
        fading.LeaveBefore(device);
        device.Stop();
        Assert.True(fading.HasLeft);
    }

    // A raised slope of the third order over the fade is at its steepest 1.5 times the mean.
    private static void AssertSmooth(float before, float[] samples)
    {
        foreach (float sample in samples)
        {
            Assert.InRange(Math.Abs(sample - before), 0, (1.5f / Fade) + 1e-6f);
            before = sample;
        }
    }

    private sealed class SteadyRenderer : IAudioRenderer
    {
        public int Calls { get; private set; }

        public void Render(Span<float> left, Span<float> right)
        {
            Calls++;
            left.Fill(1);
            right.Fill(-1);
        }
    }
}
