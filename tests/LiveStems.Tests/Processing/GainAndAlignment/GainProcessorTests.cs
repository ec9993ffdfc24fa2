using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.GainAndAlignment;
using Xunit;

namespace LiveStems.Tests.Processing.GainAndAlignment;

public class GainProcessorTests
{
    [Fact]
    public void NewProcessorPassesEveryBit()
    {
        float[] left = Sine(100, 500), right = [.. left.Select(x => x / 3)];
        float[] leftOut = [.. left], rightOut = [.. right];
        GainProcessor processor = Prepared();
        processor.Process(new StereoBlock(leftOut, rightOut));
        Assert.Equal(left, leftOut);
        Assert.Equal(right, rightOut);
        Assert.Equal(0, processor.LatencyFrames);
    }

    [Fact]
    public void LowestGainIsNotSilence()
    {
        float[] left = [1, -0.5f], right = [0.25f, 0];
        Prepared(("gainDb", -60)).Process(new StereoBlock(left, right));
        Assert.Equal(0.001f, left[0]);
        Assert.Equal(-0.0005f, left[1]);
        Assert.Equal(0.00025f, right[0]);
    }

    [Fact]
    public void WholeDelayMovesTheSoundByWholeFrames()
    {
        float[] left = new float[500], right = new float[500];
        left[3] = 1;
        right[4] = 0.5f;
        Prepared(("delaySamples", 100.4)).Process(new StereoBlock(left, right));
        Assert.Equal(1, left[103]);
        Assert.Equal(0.5f, right[104]);
        Assert.Equal(1, left.Sum());
    }

    // The interpolator's error is below −105 dB at 1 kHz (StereoDelayTests); 6e-8 is the rounding of float.
    [Fact]
    public void FractionalDelayAddsTheDeclaredLatencyAndNoMore()
    {
        float[] left = Sine(1000, 2000), right = Sine(1000, 2000);
        GainProcessor processor = Prepared(("fractionalDelay", 1), ("delaySamples", 10.25));
        processor.Process(new StereoBlock(left, right));
        Assert.Equal(48, processor.LatencyFrames);
        for (int n = 500; n < 2000; n++)
        {
            double expected = 0.5 * Math.Sin(2 * Math.PI * 1000 * (n - 10.25 - 48) / 48_000);
            Assert.Equal(expected, left[n], 0.5 * Math.Pow(10, -105 / 20.0) + 6e-8);
        }
    }

    [Fact]
    public void SwapExchangesTheSidesAndInvertTurnsTheOutputOver()
    {
        float[] left = [0.25f], right = [0.5f];
        Prepared(("swap", 1), ("invertLeft", 1)).Process(new StereoBlock(left, right));
        Assert.Equal(-0.5f, left[0]);
        Assert.Equal(0.25f, right[0]);
    }

    [Fact]
    public void DcBlockTakesDcAndLeavesTheBassAlone()
    {
        // First order at 5 Hz: after a second e^(−10π) of the DC is left; at 50 Hz it takes 10 log(1 + 0.01) = 0.043 dB.
        float[] bass = Sine(50, 96_000);
        float[] left = [.. bass.Select(x => x + 0.3f)], right = [.. left];
        Prepared(("dcBlock", 1)).Process(new StereoBlock(left, right));
        Assert.Equal(0, left[48_000..].Average(x => (double)x), 1e-4);
        Assert.Equal(0.5 * Math.Pow(10, -0.043 / 20), left[48_000..].Max(), 1e-3);
    }

    [Theory]
    [InlineData("invertLeft", 1)]
    [InlineData("swap", 1)]
    [InlineData("delaySamples", 233)]
    [InlineData("dcBlock", 1)]
    public void MovesDoNotClick(string id, double value)
    {
        // Left and right are in opposite phase, so that a swap is as hard as an inversion: amplitude 0.5, difference 1.
        GainProcessor processor = Prepared();
        float[] left = Sine(100, 24_000), right = [.. left.Select(x => -x)];
        processor.Process(new StereoBlock(left.AsSpan(0, 12_120), right.AsSpan(0, 12_120)));
        Set(processor, id, value);
        processor.Process(new StereoBlock(left.AsSpan(12_120), right.AsSpan(12_120)));
        double bound = Smoothness.BendOfCrossFade(2 * Math.PI * 100 / 48_000, 0.5, 1, 480);
        Assert.InRange(Smoothness.SharpestBend(left), 0, 1.01 * bound);
        Assert.InRange(Smoothness.SharpestBend(right), 0, 1.01 * bound);
    }

    [Fact]
    public void DelaySetTwiceWithinAFadeArrivesAtTheLast()
    {
        GainProcessor processor = Prepared();
        float[] left = Sine(100, 24_000), right = new float[24_000];
        float[] original = [.. left];
        processor.Process(new StereoBlock(left.AsSpan(0, 1000), right.AsSpan(0, 1000)));
        Set(processor, "delaySamples", 50);
        processor.Process(new StereoBlock(left.AsSpan(1000, 100), right.AsSpan(1000, 100)));
        Set(processor, "delaySamples", 77);
        processor.Process(new StereoBlock(left.AsSpan(1100), right.AsSpan(1100)));
        Assert.Equal(original[(3000 - 77)..(4000 - 77)], left[3000..4000]);
    }

    private static GainProcessor Prepared(params (string Id, double Value)[] settings)
    {
        GainProcessor processor = new();
        foreach ((string id, double value) in settings)
        {
            Set(processor, id, value);
        }

        processor.Prepare(new ProcessingFormat(48_000, 96_000));
        return processor;
    }

    private static void Set(GainProcessor processor, string id, double value) =>
        processor.SetParameter(processor.Description.IndexOf(id), value);

    private static float[] Sine(double frequencyHz, int frames) =>
        [.. Enumerable.Range(0, frames).Select(n => (float)(0.5 * Math.Sin(2 * Math.PI * frequencyHz * n / 48_000)))];
}
