using LiveStems.Dsp;
using LiveStems.Processing.Processors.Room;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.Room;

/// <summary>Whether the room rings: how dense its echoes and its modes are.</summary>
public class ColourTests
{
    private const int SampleRate = 48_000;

    // 0.15 modes a hertz for every second of reverberation, Σ M ≥ 0.15 · T · sample rate (REFERENCES section 12), for both
    // networks together.
    [Theory]
    [InlineData(6, 2.4)]
    [InlineData(12, 3)]
    public void ModesAreDenseEnough(double sizeMetres, double seconds)
    {
        IReadOnlyList<int> lines = ProcessorRun.Prepared<RoomProcessor>(SampleRate, ("sizeMetres", sizeMetres)).LineFrames;
        TestContext.Current.TestOutputHelper!.WriteLine($"{sizeMetres} m: {lines.Sum() / (double)SampleRate:0.000} modes a hertz; {string.Join(' ', lines)}");
        Assert.True(lines.Sum() >= 0.15 * seconds * SampleRate);
        Assert.Equal(16, lines.Distinct().Count());
        Assert.All(lines, line => Assert.DoesNotContain(Enumerable.Range(2, (int)Math.Sqrt(line)), divisor => line % divisor == 0));
    }

    // Noise has 1; a room is heard as dense from about 0.9 on. Windows of 20 ms.
    [Fact]
    public void EchoesAreAsDenseAsNoiseWithinAHundredMilliseconds()
    {
        float[] response = DecayTests.Response(SampleRate, 500);
        const int window = SampleRate / 50;
        for (int start = 0; start < 8 * window; start += window)
        {
            TestContext.Current.TestOutputHelper!.WriteLine($"{start * 1000 / SampleRate} ms: {RoomAcoustics.EchoDensity(response.AsSpan(start, window)):0.00}");
        }

        for (int start = 4 * window; start < 10 * window; start += window)
        {
            Assert.InRange(RoomAcoustics.EchoDensity(response.AsSpan(start, window)), 0.8, 1.25);
        }
    }

    // The levels of a dense field's spectrum spread by 5.57 dB (M. R. Schroeder 1962, the logarithm of an exponential variate), and
    // the highest of some 1,300 independent bins stands ln 1300 + 0.58 times, 8.9 dB, above the mean, give or take 0.8 dB; one of a thousand
    // rooms passes 11.5 dB. A mode that rings alone would pass it by far.
    [Theory]
    [InlineData(500, 0.06)]
    [InlineData(500, 0.3)]
    [InlineData(1000, 0.06)]
    [InlineData(1000, 0.6)]
    public void NoModeRingsAboveTheOthers(double rt60Ms, double fromSeconds)
    {
        float[] response = DecayTests.Response(SampleRate, rt60Ms, ("dampingPercent", 0));
        const int size = 8192;
        float[] tail = response.AsSpan((int)(fromSeconds * SampleRate), size).ToArray();
        for (int n = 0; n < size; n++)
        {
            tail[n] *= (float)Math.Pow(10, 3.0 * n / (rt60Ms / 1000 * SampleRate));
        }

        double[] power = RoomAcoustics.Power(tail)[50..2050];
        double mean = power.Average();
        double[] levels = [.. power.Select(Decibels.FromPower)];
        double average = levels.Average();
        double spread = Math.Sqrt(levels.Average(level => (level - average) * (level - average)));
        double highest = Decibels.FromPower(power.Max() / mean);
        TestContext.Current.TestOutputHelper!.WriteLine($"{rt60Ms} ms from {fromSeconds} s: spread {spread:0.00} dB, highest {highest:0.0} dB");
        Assert.InRange(spread, 5, 6.2);
        Assert.InRange(highest, 6, 11.5);
    }
}
