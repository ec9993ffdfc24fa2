using LiveStems.Dsp.Filters;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Dsp.Filters;

public class StereoDelayTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(77)]
    [InlineData(200)]
    public void WholeDelayMovesEveryBit(int frames)
    {
        float[] left = Noise.White(1000, 1), right = Noise.White(1000, 2);
        float[] original = [.. left];
        StereoDelay delay = new(200, isFractional: false);
        delay.Jump(frames);
        delay.Process(left, right);
        Assert.Equal(0, delay.LatencyFrames);
        Assert.Equal(original[..^frames], left[frames..]);
    }

    // The kernel's remarks: exact to −105 dB up to 0.92 of Nyquist; float output rounds to 6e-8 besides. Sines of amplitude 1, once the line has
    // filled.
    [Theory]
    [InlineData(0.5)]
    [InlineData(12.25)]
    [InlineData(100.999)]
    [InlineData(3.0)]
    public void FractionalDelayMovesSinesByFractions(double frames)
    {
        foreach (double share in new[] { 0.01, 0.3, 0.7, 0.92 })
        {
            double omega = share * Math.PI;
            float[] left = [.. Enumerable.Range(0, 1200).Select(n => (float)Math.Sin(omega * n))];
            StereoDelay delay = new(200, isFractional: true);
            delay.Jump(frames);
            delay.Process(left, new float[left.Length]);
            for (int n = 400; n < left.Length; n++)
            {
                Assert.Equal(Math.Sin(omega * (n - frames - delay.LatencyFrames)), left[n], Math.Pow(10, -105 / 20.0) + 6e-8);
            }
        }
    }

    // A cross-fade between two delays of one sine never leaves the straight line between them.
    [Fact]
    public void MovingCrossFades()
    {
        const double Omega = 0.05;
        float[] left = [.. Enumerable.Range(0, 3000).Select(n => (float)Math.Sin(Omega * n))];
        StereoDelay delay = new(200, isFractional: false);
        delay.Jump(10);
        delay.Process(left.AsSpan(0, 1000), new float[1000]);
        Assert.True(delay.MoveTo(150, 480));
        Assert.False(delay.MoveTo(20, 480));
        delay.Process(left.AsSpan(1000), new float[2000]);
        Assert.False(delay.IsFading);
        for (int n = 500; n < 3000; n++)
        {
            double share = Math.Clamp((n - 999) / 480.0, 0, 1);
            double expected = (1 - share) * Math.Sin(Omega * (n - 10)) + share * Math.Sin(Omega * (n - 150));
            Assert.Equal(expected, left[n], 1e-6);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(64)]
    public void BlocksDoNotMatter(int block)
    {
        float[] whole = Noise.White(2000, 3), parts = [.. whole];
        StereoDelay a = new(300, isFractional: true), b = new(300, isFractional: true);
        a.Jump(31.7);
        b.Jump(31.7);
        a.MoveTo(250.1, 480);
        b.MoveTo(250.1, 480);
        a.Process(whole, new float[2000]);
        for (int n = 0; n < 2000; n += block)
        {
            int count = Math.Min(block, 2000 - n);
            b.Process(parts.AsSpan(n, count), new float[count]);
        }

        Assert.Equal(whole, parts);
    }
}
