using LiveStems.Processing.Processors.Room;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Processing.Room;

public class DecayTests
{
    private static readonly double[] Octaves = [250, 500, 1000, 2000, 4000];

    // 10 % is what a room must keep to; 5 % is the least that is heard (REFERENCES section 12). A single response cannot tell
    // so much: T20 of a band B wide strays by 0.88 / √(N B T) (ISO 3382-2 annex A, from memory), 9 % at 250 Hz and 0.5 s. So N = 16
    // responses are averaged, as in a room at several places: both sides of eight rooms between 0.72 and 1.28 times the size.
    [Theory]
    [InlineData(48_000, 4.2, 100)]
    [InlineData(48_000, 6, 300)]
    [InlineData(48_000, 6, 500)]
    [InlineData(48_000, 6, 1000)]
    [InlineData(48_000, 12, 2000)]
    [InlineData(48_000, 15, 3000)]
    [InlineData(44_100, 6, 500)]
    [InlineData(96_000, 6, 500)]
    [InlineData(192_000, 6, 500)]
    public void ReverberationTimeIsTheSetOneInEveryOctave(int sampleRate, double sizeMetres, double rt60Ms)
    {
        List<float[]> responses = Places(sampleRate, sizeMetres, rt60Ms, ("dampingPercent", 0));
        foreach (double octave in Octaves)
        {
            double seconds = RoomAcoustics.T20(responses, octave, sampleRate);
            TestContext.Current.TestOutputHelper!.WriteLine($"{sizeMetres} m, {rt60Ms} ms, {octave} Hz: {1000 * seconds:0} ms");
            Assert.InRange(seconds * 1000, 0.9 * rt60Ms, 1.1 * rt60Ms);
        }
    }

    [Theory]
    [InlineData(50, 8000)]
    [InlineData(80, 2000)]
    public void DampingShortensHighOctavesAsComputed(double dampingPercent, double dampingHz)
    {
        RoomProcessor room = ProcessorRun.Prepared<RoomProcessor>(
            48_000, ("rt60Ms", 800), ("dampingPercent", dampingPercent), ("dampingHz", dampingHz));
        List<float[]> responses = Places(48_000, 6, 800, ("dampingPercent", dampingPercent), ("dampingHz", dampingHz));
        foreach (double octave in Octaves)
        {
            double expected = room.DecaySeconds(octave);
            double seconds = RoomAcoustics.T20(responses, octave, 48_000);
            TestContext.Current.TestOutputHelper!.WriteLine($"{octave} Hz: {1000 * seconds:0} ms, computed {1000 * expected:0} ms");
            Assert.InRange(seconds, 0.9 * expected, 1.1 * expected);
        }
    }

    // At the longest time and the strongest feedback, a square wave of full level goes in for a second; a minute later all is
    // below −300 dB, 3 s a 60 dB.
    [Fact]
    public void EverythingDiesAway()
    {
        RoomProcessor room = ProcessorRun.Prepared<RoomProcessor>(
            48_000, ("wetPercent", 100), ("rt60Ms", 3000), ("dampingPercent", 0), ("lowCutHz", 20), ("widthPercent", 150));
        float[] square = TestSignals.Square(48_000, 97, 1);
        ProcessorRun.Through(room, square, square);
        float[] silence = new float[48_000];
        float last = 0;
        for (int second = 0; second < 60; second++)
        {
            last = ProcessorRun.Through(room, silence, silence).Left.Max(Math.Abs);
        }

        Assert.True(last < 1e-15f, $"{last}");
    }

    internal static float[] Response(int sampleRate, double rt60Ms, params (string, double)[] settings) =>
        Both(sampleRate, rt60Ms, settings).Left;

    private static List<float[]> Places(int sampleRate, double sizeMetres, double rt60Ms, params (string, double)[] settings)
    {
        List<float[]> responses = [];
        for (int place = 0; place < 8; place++)
        {
            double size = sizeMetres * (1 + 0.08 * (place - 3.5));
            (float[] left, float[] right) = Both(sampleRate, rt60Ms, [("sizeMetres", size), .. settings]);
            responses.AddRange([left, right]);
        }

        return responses;
    }

    private static (float[] Left, float[] Right) Both(int sampleRate, double rt60Ms, (string, double)[] settings)
    {
        RoomProcessor room = ProcessorRun.Prepared<RoomProcessor>(
            sampleRate, [("wetPercent", 100), ("preDelayMs", 0), ("lowCutHz", 20), ("rt60Ms", rt60Ms), .. settings]);
        float[] impulse = new float[(int)(sampleRate * (0.3 + 1.2 * rt60Ms / 1000))];
        impulse[0] = 1;
        return ProcessorRun.Through(room, impulse, impulse);
    }
}
