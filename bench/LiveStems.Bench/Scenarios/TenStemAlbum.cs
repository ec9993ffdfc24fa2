using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>The job of the peer run: ten stereo stems of noise bursts at 48 kHz and 24 bits, each with a chain.</summary>
internal static class TenStemAlbum
{
    public const int SampleRate = 48_000;
    public const int Stems = 10;

    /// <summary>Writes the stems and the album into a folder and returns the paths of the stems.</summary>
    public static IReadOnlyList<string> Write(string folder, int seconds)
    {
        List<string> paths = [];
        for (int stem = 0; stem < Stems; stem++)
        {
            string path = Path.Combine(folder, $"stem {stem}.wav");
            WriteStem(path, stem, seconds);
            paths.Add(path);
        }

        Song song = new("Ten stems", null, null, null, [.. paths.Select(ToStem)], Bus(), []);
        Album album = new("Peer run", "Nobody", new DeliveryTargets(null, -1), [song], []);
        AlbumFile.Save(album, folder, BuiltInProcessors.Catalogue);
        return paths;
    }

    private static Stem ToStem(string path, int index) => new(
        $"Stem {index}", Path.GetFileName(path), new string('0', 64), StemRole.Other, Placement.AsDelivered,
        new Chain(false,
        [
            Equaliser(
                ("band1.on", 1), ("band1.shape", 4), ("band1.frequencyHz", 40), ("band1.slopeDbPerOctave", 1),
                ("band2.on", 1), ("band2.shape", 0), ("band2.frequencyHz", 300), ("band2.gainDb", -3), ("band2.q", 1),
                ("band3.on", 1), ("band3.shape", 0), ("band3.frequencyHz", 3000), ("band3.gainDb", 2), ("band3.q", 1),
                ("band4.on", 1), ("band4.shape", 3), ("band4.frequencyHz", 18000), ("band4.slopeDbPerOctave", 1)),
            Compressor(-20, 2),
        ]),
        [],
        []);

    private static Chain Bus() => new(false,
    [
        Equaliser(
            ("band1.on", 1), ("band1.shape", 0), ("band1.frequencyHz", 80), ("band1.gainDb", 1), ("band1.q", 0.7),
            ("band2.on", 1), ("band2.shape", 0), ("band2.frequencyHz", 1000), ("band2.gainDb", -1), ("band2.q", 0.7),
            ("band3.on", 1), ("band3.shape", 0), ("band3.frequencyHz", 8000), ("band3.gainDb", 1), ("band3.q", 0.7)),
        Compressor(-12, 1.5),
        Slot("limiter", ("ceilingDbtp", -1)),
    ]);

    private static ChainSlot Equaliser(params (string, double)[] parameters) => Slot("equaliser", parameters);

    private static ChainSlot Compressor(double threshold, double ratio) =>
        Slot("compressor", ("thresholdDb", threshold), ("ratio", ratio), ("attackMs", 20), ("releaseMs", 250));

    public static ChainSlot Slot(string id, params (string Id, double Value)[] parameters) => new(
        id, id, 1, false, 100, StereoScope.Stereo, null, parameters.ToImmutableSortedDictionary(pair => pair.Id, pair => pair.Value), string.Empty);

    private static void WriteStem(string path, int seed, int seconds)
    {
        using WavWriter writer = new(path, new WavFormat(SampleRate, 24));
        Random random = new(seed);
        float[] left = new float[SampleRate];
        float[] right = new float[SampleRate];
        float slowLeft = 0;
        float slowRight = 0;
        for (int second = 0; second < seconds; second++)
        {
            for (int i = 0; i < SampleRate; i++)
            {
                float burst = MathF.Exp(-(i + seed * 4801) % 24_000 / 6000f);
                slowLeft += 0.05f * (random.NextSingle() - 0.5f - slowLeft);
                slowRight += 0.05f * (random.NextSingle() - 0.5f - slowRight);
                left[i] = burst * slowLeft;
                right[i] = burst * slowRight;
            }

            writer.Write(left, right);
        }

        writer.Complete();
    }
}
