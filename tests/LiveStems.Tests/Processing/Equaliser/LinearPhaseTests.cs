using System.Numerics;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Processing.Contract;
using LiveStems.Processing.Processors.Equaliser;
using LiveStems.Tests.Signals;
using Xunit;
using static LiveStems.Tests.Processing.Equaliser.EqualiserSetup;

namespace LiveStems.Tests.Processing.Equaliser;

public class LinearPhaseTests
{
    private static readonly (string, double)[] Curve =
    [
        ("band1.shape", (int)FilterShape.HighPass), ("band1.frequencyHz", 30), ("band1.slopeDbPerOctave", 1),
        ("band2.on", 1), ("band2.frequencyHz", 250), ("band2.gainDb", -6), ("band2.q", 4),
        ("band3.on", 1), ("band3.frequencyHz", 3000), ("band3.gainDb", 9), ("band3.q", 20),
        ("band4.on", 1), ("band4.shape", (int)FilterShape.HighShelf), ("band4.frequencyHz", 9000), ("band4.gainDb", 4),
        ("band5.on", 1), ("band5.shape", (int)FilterShape.LowShelf), ("band5.frequencyHz", 120), ("band5.gainDb", -3),
        ("band6.on", 1), ("band6.frequencyHz", 15_000), ("band6.gainDb", -12), ("band6.q", 2),
        ("band7.on", 1), ("band7.shape", (int)FilterShape.Tilt), ("band7.frequencyHz", 700), ("band7.gainDb", 2),
    ];

    private static readonly double[] Frequencies = [.. Enumerable.Range(0, 121).Select(i => 20 * Math.Pow(1000, i / 120.0))];

    [Theory]
    [InlineData(44_100)]
    [InlineData(48_000)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void MagnitudeIsThatOfMinimumPhase(int sampleRate)
    {
        float[] minimum = Impulse(Prepared(sampleRate, Curve), 131_072);
        float[] linear = Impulse(Prepared(sampleRate, [.. Curve, ("phase", 1)]), 131_072);
        foreach (double frequency in Frequencies)
        {
            Assert.Equal(GainDb(minimum, frequency, sampleRate), GainDb(linear, frequency, sampleRate), 0.05);
        }
    }

    // Float transforms of ±1 numbers round to some 1e-7.
    [Theory]
    [InlineData(0, 44_100, 2048 + 512)]
    [InlineData(1, 48_000, 4096 + 512)]
    [InlineData(2, 48_000, 8192 + 512)]
    [InlineData(2, 96_000, 16_384 + 1024)]
    public void ImpulseResponseIsSymmetricalAboutTheLatency(int length, int sampleRate, int latency)
    {
        EqualiserProcessor equaliser = Prepared(sampleRate, [.. Curve, ("phase", 1), ("linearPhaseLength", length)]);
        Assert.Equal(latency, equaliser.LatencyFrames);
        float[] response = Impulse(equaliser, 2 * latency);
        Assert.Equal(latency, Array.IndexOf(response, response.Max()));
        for (int n = 1; n < latency; n++)
        {
            Assert.Equal(response[latency - n], response[latency + n], 3e-6f);
        }
    }

    [Fact]
    public void ParametersThatMoveArriveAndDoNotClick()
    {
        (string, double)[] settings = [("phase", 1), ("band1.frequencyHz", 100), ("band1.q", 1)];
        EqualiserProcessor equaliser = Prepared(48_000, settings);
        float[] sound = Sine(100, -6, 2);
        float[] before = Through(equaliser, sound);
        Set(equaliser, "band1.gainDb", 12);
        float[] after = Through(equaliser, sound);
        Assert.Equal(6, LevelDb(after.AsSpan(48_000), 100), 0.01);

        // Fades of 512 frames: the whole way in one of them would be the steepest.
        double bound = Smoothness.BendOfCrossFade(2 * Math.PI * 100 / 48_000, 2, 1.5, 512);
        Assert.InRange(Smoothness.SharpestBend(((float[])[.. before, .. after]).AsSpan(24_000)), 0, bound + 1e-6);
    }

    [Fact]
    public void SettingsThatAreSetBackWhileTheFilterIsMadeAreHeard()
    {
        EqualiserProcessor equaliser = Prepared(48_000, ("phase", 1), ("band1.frequencyHz", 1000));
        float[] sound = Sine(1000, -20, 1);
        Through(equaliser, sound);
        Set(equaliser, "band1.gainDb", 12);
        Through(equaliser, sound[..700]);
        Set(equaliser, "band1.gainDb", 0);
        Through(equaliser, sound);
        Assert.Equal(-20, LevelDb(Through(equaliser, sound).AsSpan(24_000), 1000), 0.001);
    }

    [Fact]
    public void FlatEqualiserIsADelay()
    {
        EqualiserProcessor equaliser = Prepared(48_000, ("phase", 1), ("band1.on", 0));
        float[] noise = Noise.White(40_000, 5);
        float[] output = Through(equaliser, noise);
        for (int n = equaliser.LatencyFrames; n < noise.Length; n++)
        {
            Assert.Equal(noise[n - equaliser.LatencyFrames], output[n], 1e-6f);
        }
    }

    // The gain meets the sound it is for: a burst finds the same reduction as in minimum phase, later by the latency.
    [Fact]
    public void DynamicBandWorksAndMeetsItsSound()
    {
        (string, double)[] settings =
            [("band1.frequencyHz", 1000), ("band1.q", 1), ("band1.gainDb", 3), ("band1.dynamic", 1), ("band1.thresholdDb", -40), ("band1.rangeDb", -9), ("band1.ratio", 100)];
        float[] sound = [.. new float[24_000], .. Sine(1000, -10, 0.5), .. new float[48_000]];
        EqualiserProcessor linear = Prepared(48_000, [.. settings, ("phase", 1)]);
        float[] minimum = Through(Prepared(48_000, settings), sound);
        float[] delayed = Through(linear, sound);
        int latency = linear.LatencyFrames;
        foreach (int at in new[] { 25_000, 26_000, 28_000, 36_000, 44_000 })
        {
            Assert.Equal(LevelDb(minimum.AsSpan(at, 960), 1000), LevelDb(delayed.AsSpan(at + latency, 960), 1000), 0.1);
        }
    }

    private static float[] Impulse(EqualiserProcessor equaliser, int frames)
    {
        float[] left = new float[frames], right = new float[frames];
        left[0] = 1;
        for (int start = 0; start < frames; start += 4096)
        {
            int count = Math.Min(4096, frames - start);
            equaliser.Process(new StereoBlock(left.AsSpan(start, count), right.AsSpan(start, count)));
        }

        return left;
    }

    private static double GainDb(float[] response, double frequencyHz, double sampleRate)
    {
        Complex sum = 0;
        Complex turn = Complex.FromPolarCoordinates(1, -2 * Math.PI * frequencyHz / sampleRate);
        Complex at = 1;
        foreach (float value in response)
        {
            sum += value * at;
            at *= turn;
        }

        return Decibels.FromAmplitude(Complex.Abs(sum));
    }
}
