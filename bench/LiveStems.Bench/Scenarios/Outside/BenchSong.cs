using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Files.Writing;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>A song of one tone in as many stems as wanted, each with a processor or without.</summary>
internal sealed class BenchSong : IDisposable
{
    public const float Level = 0.1f;
    private const int SampleRate = 48_000;

    public BenchSong(IEnumerable<string?> processors, int seconds)
    {
        Folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        using (WavWriter writer = new(Path.Combine(Folder, "stem.wav"), new WavFormat(SampleRate, 24)))
        {
            float[] tone = [.. Enumerable.Range(0, SampleRate).Select(i => Level * MathF.Sin(2 * MathF.PI * 250 * i / SampleRate))];
            for (int second = 0; second < seconds; second++)
            {
                writer.Write(tone, tone);
            }

            writer.Complete();
        }

        Song = new Song("Load", null, null, null, [.. processors.Select(Stem)], Chain.Empty, []);
    }

    public string Folder { get; }

    public Song Song { get; private set; }

    public void Rename(Func<int, string> name) => Song = Song with
    {
        Stems = [.. Song.Stems.Select((stem, number) => stem with { Chain = new Chain(false, [stem.Chain.Slots[0] with { Processor = name(number) }]) })],
    };

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private static Stem Stem(string? processor, int number) => new(
        $"Stem {number}", "stem.wav", string.Empty, StemRole.Other, Placement.AsDelivered,
        processor is null ? Chain.Empty : new Chain(false, [new ChainSlot(processor, processor, 1, false, 100, StereoScope.Stereo, null, ImmutableSortedDictionary<string, double>.Empty, string.Empty)]), [], []);
}
