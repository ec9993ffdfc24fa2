using LiveStems.Analysis.Intake;
using LiveStems.App.Demo;
using LiveStems.Dsp;
using LiveStems.Files.Writing;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A delivery made of half a minute of a demo song, with one fault of every kind in a stem of its own, and a rough mix of
/// the stems as they should be.
/// </summary>
internal sealed class PlantedDelivery
{
    public const int Seconds = 30;

    private const float HighestUnderAClick = 0.45f;
    private const double LeastLevel = 0.003;

    // A gap that begins where a stroke has died away, or ends before the next one begins, is a pause: −70 dBFS within 1 ms.
    private const double LeastBeside = 0.0003;
    private const int MostTries = 100_000;

    private readonly Random random;
    private readonly DemoSong song;
    private readonly IReadOnlyList<float[][]> whole;
    private readonly int start;
    private readonly int frames;
    private readonly List<int> free;
    private readonly float[][][] stems;

    public PlantedDelivery(DemoSong song, IReadOnlyList<float[][]> whole, Random random)
    {
        this.song = song;
        this.whole = whole;
        this.random = random;
        frames = Seconds * song.SampleRate;
        int most = whole[0][0].Length - frames - 5000;
        start = random.Next(5000, most);
        stems = [.. whole.Select(channels => Excerpt(channels, 0))];
        free = [.. Enumerable.Range(0, stems.Length).Where(stem => SoundingPlaces(stem) > 50).OrderBy(_ => random.Next())];
    }

    public List<PlantedFault> Faults { get; } = [];

    /// <summary>Writes the delivery as it should be and returns what the check takes.</summary>
    public IntakeSong Write(string folder)
    {
        Directory.CreateDirectory(folder);
        List<IntakeFile> files = [.. stems.Select((channels, stem) => new IntakeFile(song.Stems[stem].Name, Write(Path.Combine(folder, song.Stems[stem].FileName), channels), false))];
        float gain = (float)Decibels.ToAmplitude(-6 * random.NextDouble());
        float[][] mix = [new float[frames], new float[frames]];
        foreach (float[][] channels in whole)
        {
            float[][] right = Excerpt(channels, 0);
            for (int side = 0; side < 2; side++)
            {
                for (int n = 0; n < frames; n++)
                {
                    mix[side][n] += gain * right[Math.Min(side, right.Length - 1)][n];
                }
            }
        }

        files.Add(new IntakeFile("Rough mix", Write(Path.Combine(folder, "Rough mix.wav"), mix), true));
        return new IntakeSong(song.Title, files);
    }

    public void PlantAll()
    {
        Delay();
        WholePolarity();
        OneSide();
        Gain();
        Offset();
        Dropouts();
        Clicks();
        Clipping();
    }

    private void Delay()
    {
        if (Take(_ => true) is { } stem)
        {
            int late = (random.Next(2) == 0 ? -1 : 1) * (int)Math.Round(Math.Pow(4000, random.NextDouble()));
            stems[stem] = Excerpt(whole[stem], -late);
            Plant(FindingKind.Delay, stem, late);
        }
    }

    private void WholePolarity()
    {
        if (Take(_ => true) is { } stem)
        {
            stems[stem] = [.. stems[stem].Select(channel => channel.Select(sample => -sample).ToArray())];
            Plant(FindingKind.Polarity, stem, double.NaN);
        }
    }

    private void OneSide()
    {
        if (Take(stem => stems[stem].Length == 2) is { } stem)
        {
            int side = random.Next(2);
            stems[stem][side] = [.. stems[stem][side].Select(sample => -sample)];
            Plant(FindingKind.Polarity, stem, side);
        }
    }

    private void Gain()
    {
        if (Take(_ => true) is { } stem)
        {
            double error = (random.Next(2) == 0 ? -1 : 1) * (0.3 + 4 * random.NextDouble());
            float gain = (float)Decibels.ToAmplitude(error);
            stems[stem] = [.. stems[stem].Select(channel => channel.Select(sample => gain * sample).ToArray())];
            Plant(FindingKind.Gain, stem, error);
        }
    }

    private void Offset()
    {
        if (Take(_ => true) is { } stem)
        {
            float offset = (random.Next(2) == 0 ? -1 : 1) * (0.002f + 0.02f * random.NextSingle());
            stems[stem] = [.. stems[stem].Select(channel => channel.Select(sample => sample + offset).ToArray())];
            Plant(FindingKind.DcOffset, stem, Decibels.FromAmplitude(Math.Abs(offset)));
        }
    }

    // Inside sound: the stem sounds right before and right behind it, the last and first millisecond too.
    private void Dropouts() => Places(FindingKind.Dropouts, random.Next(1, 6), (channel, at) =>
    {
        int length = 8 + (int)Math.Pow(2000, random.NextDouble());
        if (Level(channel.AsSpan(at + length, 256)) < LeastLevel || Level(channel.AsSpan(at - 48, 48)) < LeastBeside || Level(channel.AsSpan(at + length, 48)) < LeastBeside)
        {
            return false;
        }

        channel.AsSpan(at, length).Clear();
        return true;
    });

    // 6 to 20 dB above all within 10 ms: single samples and bursts of up to eight. What leaves no room for that is left out.
    private void Clicks() => Places(FindingKind.Clicks, random.Next(1, 6), (channel, at) =>
    {
        float peak = channel.AsSpan(at - 480, 960).ToArray().Max(Math.Abs);
        if (peak > HighestUnderAClick)
        {
            return false;
        }

        float size = Math.Min(peak * (float)Decibels.ToAmplitude(6 + 14 * random.NextDouble()), 0.98f);
        int length = random.Next(1, 9);
        for (int n = 0; n < length; n++)
        {
            channel[at + n] += n == 0 ? size : size * (2 * random.NextSingle() - 1);
        }

        return true;
    });

    private void Clipping() => Places(FindingKind.Clipping, random.Next(1, 12), (channel, at) =>
    {
        channel.AsSpan(at, random.Next(3, 20)).Fill(random.Next(2) == 0 ? 1f : -1f);
        return true;
    });

    private void Places(FindingKind kind, int count, Func<float[], int, bool> spoil)
    {
        if (Take(stem => SoundingPlaces(stem) > 200) is { } stem)
        {
            List<double> seconds = [];
            for (int tries = 0; seconds.Count < count && tries < MostTries; tries++)
            {
                float[] channel = stems[stem][random.Next(stems[stem].Length)];
                int at = random.Next(song.SampleRate, frames - song.SampleRate);
                bool isApart = seconds.TrueForAll(second => Math.Abs(second - (double)at / song.SampleRate) > 0.3);
                if (isApart && Sounds(channel, at) && spoil(channel, at))
                {
                    seconds.Add((double)at / song.SampleRate);
                }
            }

            Plant(kind, stem, seconds.Count);
            Faults[^1].Seconds.AddRange(seconds.Order());
        }
    }

    private void Plant(FindingKind kind, int stem, double size) => Faults.Add(new PlantedFault(kind, song.Stems[stem].Name, size));

    private int? Take(Func<int, bool> fits)
    {
        int place = free.FindIndex(stem => fits(stem));
        if (place < 0)
        {
            return null;
        }

        int taken = free[place];
        free.RemoveAt(place);
        return taken;
    }

    private int SoundingPlaces(int stem) => Enumerable.Range(10, Seconds * 20).Count(slot => slot * song.SampleRate / 20 < frames - 5000 && Sounds(stems[stem][0], slot * song.SampleRate / 20));

    // 20 ms on both sides of a place at −50 dBFS or above, and so near it.
    private static bool Sounds(float[] channel, int at) =>
        Level(channel.AsSpan(at - 960, 960)) > LeastLevel && Level(channel.AsSpan(at + 2100, 960)) > LeastLevel
        && Level(channel.AsSpan(at - 256, 256)) > LeastLevel && Level(channel.AsSpan(at, 256)) > LeastLevel;

    private static double Level(ReadOnlySpan<float> samples)
    {
        double sum = 0;
        foreach (float sample in samples)
        {
            sum += (double)sample * sample;
        }

        return Math.Sqrt(sum / samples.Length);
    }

    private float[][] Excerpt(float[][] channels, int shift) => [.. channels.Select(channel => channel.AsSpan(start + shift, frames).ToArray())];

    private string Write(string path, float[][] channels)
    {
        using WavWriter writer = new(path, new WavFormat(song.SampleRate, 24, Channels: channels.Length));
        if (channels.Length == 1)
        {
            writer.Write(channels[0]);
        }
        else
        {
            writer.Write(channels[0], channels[1]);
        }

        writer.Complete();
        return path;
    }
}
