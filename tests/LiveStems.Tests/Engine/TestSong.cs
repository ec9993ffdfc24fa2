using System.Collections.Immutable;
using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Tests.Engine;

/// <summary>A song of generated stems in a folder of its own that goes away with it.</summary>
internal sealed class TestSong : IDisposable
{
    public const int SampleRate = 48_000;

    public TestSong()
    {
        Folder = Directory.CreateTempSubdirectory("livestems-test-").FullName;
        Song = new Song("Test", null, null, null, [], LiveStems.Albums.Model.Chain.Empty, []);
    }

    public string Folder { get; }

    public Song Song { get; set; }

    public static Chain Chain(params ChainSlot[] slots) => new(false, [.. slots]);

    public static ChainSlot Slot(string processor, params (string Id, double Value)[] parameters) => new(
        processor, processor, 1, false, 100, StereoScope.Stereo, null,
        parameters.ToImmutableSortedDictionary(pair => pair.Id, pair => pair.Value), string.Empty);

    public static Parallel ParallelPath(bool afterChain, double blendDb, params ChainSlot[] slots) =>
        new("Under", afterChain, blendDb, false, Chain(slots));

    /// <summary>Adds a stem; <paramref name="right"/> null makes it mono.</summary>
    public void AddStem(string name, float[] left, float[]? right, Func<Stem, Stem>? change = null, int sampleRate = SampleRate)
    {
        string file = name + ".wav";
        using (WavWriter writer = new(Path.Combine(Folder, file), new WavFormat(sampleRate, 32, true, right is null ? 1 : 2)))
        {
            if (right is null)
            {
                writer.Write(left);
            }
            else
            {
                writer.Write(left, right);
            }

            writer.Complete();
        }

        Stem stem = new(name, file, string.Empty, StemRole.Other, Placement.AsDelivered, LiveStems.Albums.Model.Chain.Empty, [], []);
        Song = Song with { Stems = Song.Stems.Add(change is null ? stem : change(stem)) };
    }

    public (float[] Left, float[] Right) Render(
        int blockFrames = 2048, int threads = 1, ProcessorCatalogue? catalogue = null, PlanOptions? options = null)
    {
        PlanOptions planOptions = options ?? new PlanOptions(Math.Max(blockFrames, 16), 16_384);
        using SongSources sources = SongSources.Open(Song, Folder, planOptions);
        SongPlan plan = SongCompiler.Compile(Song, sources, catalogue ?? TestProcessors.Catalogue, planOptions);
        Recording recording = new();
        OfflineRenderer.Render(plan, recording, new RenderOptions(threads, blockFrames), null, CancellationToken.None);
        return ([.. recording.Left], [.. recording.Right]);
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    internal sealed class Recording : IRenderSink
    {
        public List<float> Left { get; } = [];

        public List<float> Right { get; } = [];

        public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
        {
            Left.AddRange(left);
            Right.AddRange(right);
        }
    }
}
