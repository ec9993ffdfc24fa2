using LiveStems.Dsp;
using LiveStems.Processing.Contract;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>A processor sounds the same at every sample rate.</summary>
public class SampleRateNet
{
    // In a room a tone meets other modes at every rate: it is asked for the sum of many.
    private const string Room = "room";

    private const double Seconds = 1.5;
    private const double WindowSeconds = 0.025;

    private static readonly double[] Tones = [220, 1000, 3500, 9000];

    // By how much levels may differ: 0.3 dB, and more where the rate itself changes what is heard.
    private static readonly Dictionary<string, double> Tolerances = new()
    {
        // Windows are powers of two of frames: 46 ms at 44.1 kHz, 43 ms at the other rates, and so are its cuts.
        ["resonance-suppressor"] = 1.5,

        // It follows peaks of samples: between 4.9 and 21 samples a period of the highest tone, a fifth of a decibel, which its
        // slope of 2 doubles.
        ["expander"] = 0.5,
    };

    public static TheoryData<string, int> Cases()
    {
        TheoryData<string, int> cases = [];
        foreach (string id in ProcessorUnderTest.Ids().Select(row => row.Data).Where(id => id != Room))
        {
            foreach (int rate in new[] { 44_100, 96_000, 192_000 })
            {
                cases.Add(id, rate);
            }
        }

        return cases;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void TonesThatSwellComeOutAlike(string id, int sampleRate)
    {
        double tolerance = Tolerances.GetValueOrDefault(id, 0.3);
        Heard reference = Listen(id, 48_000);
        Heard heard = Listen(id, sampleRate);
        for (int i = 0; i < Tones.Length; i++)
        {
            Assert.True(Math.Abs(reference.TonesDb[i] - heard.TonesDb[i]) <= tolerance, $"{Tones[i]} Hz: {heard.TonesDb[i]:0.00} dB, at 48 kHz {reference.TonesDb[i]:0.00}");
        }

        for (int i = 0; i < reference.LevelsDb.Length; i++)
        {
            Assert.True(
                Math.Abs(reference.LevelsDb[i] - heard.LevelsDb[i]) <= tolerance,
                $"at {i * WindowSeconds:0.000} s: {heard.LevelsDb[i]:0.00} dB, at 48 kHz {reference.LevelsDb[i]:0.00}");
        }
    }

    // Powers of tones in a dense field of modes scatter as an exponential distribution does (M. R. Schroeder, 1954: 5.6 dB);
    // the sum of 200 by 7 %, 0.3 dB, and two of them by 0.43 dB: 1.3 dB is three times that.
    [Theory]
    [InlineData(44_100)]
    [InlineData(96_000)]
    [InlineData(192_000)]
    public void RoomIsAsLoudAtEveryRate(int sampleRate) => Assert.Equal(RoomDb(48_000), RoomDb(sampleRate), 1.3);

    private static double RoomDb(int sampleRate)
    {
        Processor room = ActingSettings.Prepared(Room, sampleRate);
        room.SetParameter(room.Description.IndexOf("wetPercent"), 100);
        room.Reset();
        float[] left = new float[sampleRate], right = new float[sampleRate];
        for (int tone = 0; tone < 200; tone++)
        {
            double frequency = 200 * Math.Pow(40, tone / 200.0);
            for (int n = 0; n < sampleRate; n++)
            {
                left[n] += (float)(0.01 * Math.Sin(2 * Math.PI * frequency * n / sampleRate + tone * tone));
                right[n] += (float)(0.01 * Math.Sin(2 * Math.PI * frequency * n / sampleRate + 2.3 * tone * tone));
            }
        }

        ActingSettings.Run(room, left, right);
        return Decibels.FromPower(left.Skip(sampleRate / 2).Concat(right.Skip(sampleRate / 2)).Average(x => (double)x * x));
    }

    private static Heard Listen(string id, int sampleRate)
    {
        Processor processor = ActingSettings.Prepared(id, sampleRate);
        int frames = (int)(Seconds * sampleRate);
        int latency = processor.LatencyFrames;
        float[] left = new float[frames + latency], right = new float[frames + latency];
        for (int n = 0; n < left.Length; n++)
        {
            double time = (double)n / sampleRate;
            double swell = 0.6 + 0.4 * Math.Cos(2 * Math.PI * 3 * time);
            for (int tone = 0; tone < Tones.Length; tone++)
            {
                left[n] += (float)(0.12 * swell * Math.Sin(2 * Math.PI * Tones[tone] * time + tone));
                right[n] += (float)(0.12 * swell * Math.Sin(2 * Math.PI * Tones[tone] * time + 1.7 * tone));
            }
        }

        ActingSettings.Run(processor, left, right);
        ReadOnlySpan<float> sound = left.AsSpan(latency);
        double[] tones = [.. Tones.Select(tone => Processing.Equaliser.EqualiserSetup.LevelDb(left.AsSpan(latency + frames / 2, frames / 2), tone, sampleRate))];
        double[] levels = new double[(int)(Seconds / WindowSeconds) - 1];
        for (int window = 0; window < levels.Length; window++)
        {
            int first = (int)(window * WindowSeconds * sampleRate);
            double sum = 0;
            int count = (int)(WindowSeconds * sampleRate);
            for (int n = first; n < first + count; n++)
            {
                sum += (double)sound[n] * sound[n];
            }

            levels[window] = Decibels.FromPower(sum / count + 1e-12);
        }

        // The first quarter of a second is filling up.
        return new(tones, levels[(int)(0.25 / WindowSeconds)..]);
    }

    private sealed record Heard(double[] TonesDb, double[] LevelsDb);
}
