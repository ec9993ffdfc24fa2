using LiveStems.Dsp;
using LiveStems.Processing.Processors.Room;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.Room;

public class BalanceTests
{
    private const int SampleRate = 48_000;
    private static readonly float[] Pink = PinkNoise.Make(6 * SampleRate, 21, 0.1);

    // Two answers to one noise that have nothing in common still agree by chance, by 1/√(2 B τ) of their power, which is also the
    // difference in level between their sum and their difference: with pink noise above the low cut (4 kHz of equivalent bandwidth) and the
    // energy's time constant τ = T/13.8, 0.08 or 0.65 dB at 0.3 s for a single room. Over eight rooms, a third of that; the bounds are
    // twice, and for each room three times, the deviation.
    [Theory]
    [InlineData(300)]
    [InlineData(1500)]
    public void MonoSoundIsAnsweredEquallyOnBothSidesAndWide(double rt60Ms)
    {
        double difference = 0;
        for (int place = 0; place < 8; place++)
        {
            (float[] left, float[] right) = Wet(Pink, Pink, ("rt60Ms", rt60Ms), ("sizeMetres", 5 + place));
            double l = Power(left), r = Power(right);
            double correlation = left.Zip(right, (a, b) => (double)a * b).Average() / Math.Sqrt(l * r);
            TestContext.Current.TestOutputHelper!.WriteLine($"{5 + place} m: {Decibels.FromPower(l / r):0.00} dB left over right, correlation {correlation:0.00}");
            Assert.InRange(Decibels.FromPower(l / r), -2, 2);
            Assert.InRange(correlation, -0.25, 0.25);
            difference += Decibels.FromPower(l / r) / 8;
        }

        Assert.InRange(difference, -0.5, 0.5);
    }

    // The sum is the middle's room, with half the power of each side: 10 log ½ below their mean, and no combs, since
    // the side's room cancels in it.
    [Fact]
    public void MonoSumIsTheMiddlesRoomAlone()
    {
        (float[] left, float[] right) = Wet(Pink, Pink);
        (float[] middle, float[] _) = Wet(Pink, Pink, ("widthPercent", 0));
        for (int n = 0; n < left.Length; n += 7)
        {
            // At width 0 all the power goes to the middle, 3 dB more.
            Assert.Equal(middle[n], Math.Sqrt(2) * (left[n] + right[n]) / 2, 1e-5);
        }

        double mono = Power([.. left.Zip(right, (a, b) => (a + b) / 2)]);
        Assert.InRange(Decibels.FromPower(mono / ((Power(left) + Power(right)) / 2)), -3.5, -2.5);
    }

    [Fact]
    public void RoomIsAboutAsLoudAsTheSoundWhateverItsLength()
    {
        foreach (double rt60Ms in new double[] { 200, 500, 1000, 3000 })
        {
            (float[] left, float[] _) = Wet(Pink, Pink, ("rt60Ms", rt60Ms), ("sizeMetres", 10), ("dampingPercent", 0), ("earlyDb", -40), ("lowCutHz", 20));
            double level = Decibels.FromPower(Power(left[(4 * SampleRate)..]) / Power(Pink[(4 * SampleRate)..]));
            TestContext.Current.TestOutputHelper!.WriteLine($"{rt60Ms} ms: {level:0.0} dB");
            Assert.InRange(level, -2.5, 2.5);
        }
    }

    [Fact]
    public void NewRoomIsMild()
    {
        RoomProcessor room = ProcessorRun.Prepared<RoomProcessor>(SampleRate);
        (float[] left, float[] _) = ProcessorRun.Through(room, Pink, Pink);
        double added = Decibels.FromPower(left.Zip(Pink, (a, b) => Math.Pow(a - b, 2)).Average() / Power(Pink));
        TestContext.Current.TestOutputHelper!.WriteLine($"room {added:0.0} dB beside the sound");
        Assert.InRange(added, -25, -12);
    }

    [Fact]
    public void PreDelayMovesTheFirstReflection()
    {
        Assert.Equal(Onset(0) + 960, Onset(20));

        static int Onset(double preDelayMs)
        {
            float[] impulse = new float[SampleRate];
            impulse[0] = 1;
            (float[] left, float[] _) = Wet(impulse, impulse, ("preDelayMs", preDelayMs), ("lowCutHz", 20));
            return Array.FindIndex(left, sample => Math.Abs(sample) > 0.01);
        }
    }

    private static (float[] Left, float[] Right) Wet(float[] left, float[] right, params (string, double)[] settings) =>
        ProcessorRun.Through(ProcessorRun.Prepared<RoomProcessor>(SampleRate, [("wetPercent", 100), .. settings]), left, right);

    private static double Power(float[] sound) => sound.Average(sample => (double)sample * sample);
}
