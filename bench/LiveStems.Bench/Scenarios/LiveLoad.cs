using System.Collections.Immutable;
using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// 32 stems at 96 kHz with six processors each in blocks of 128 frames, on one thread as the audio thread runs them: how
/// long each block takes against the 1.33 ms it has.
/// </summary>
internal static class LiveLoad
{
    private const int SampleRate = 96_000;
    private const int Stems = 32;
    private const int Frames = 128;
    private const int Seconds = 10;

    private static readonly string[] ProcessorIds = ["equaliser", "compressor", "equaliser", "compressor", "gain", "equaliser"];

    public static void Run()
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        try
        {
            WriteStem(Path.Combine(folder, "stem.wav"));
            Song song = new("Load", null, null, null, [.. Enumerable.Range(0, Stems).Select(Stem)], Chain.Empty, []);
            PlanOptions options = new(Frames, SampleRate) { IsLive = true };
            using SongSources sources = SongSources.Open(song, folder, options);
            Plan plan = SongCompiler.Compile(song, sources, BuiltInProcessors.Catalogue, options).Plan;
            Measure(sources, plan);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Measure(SongSources sources, Plan plan)
    {
        sources.Head.OpenAtStart();
        double[] shares = new double[Seconds * SampleRate / Frames];
        for (int block = 0; block < shares.Length; block++)
        {
            foreach (StemPump pump in sources.Pumps)
            {
                pump.FillTo(Frames + pump.Feed.ReserveFrames);
            }

            long start = Stopwatch.GetTimestamp();
            BlockWindow window = sources.Head.BeginBlock(Frames);
            foreach (StemPump pump in sources.Pumps)
            {
                pump.Feed.Take(window, Frames);
            }

            sources.Head.EndBlock(window);
            plan.Run(Frames);
            shares[block] = Stopwatch.GetElapsedTime(start).TotalSeconds * SampleRate / Frames;
        }

        Array.Sort(shares);
        Console.WriteLine(
            $"{Stems} stems, {ProcessorIds.Length} processors each, {SampleRate} Hz, {Frames} frames: median {shares[shares.Length / 2] * 100:0.0} % of the deadline, 99 % within {shares[(int)(shares.Length * 0.99)] * 100:0.0} %, 99.9 % within {shares[(int)(shares.Length * 0.999)] * 100:0.0} %, worst {shares[^1] * 100:0.0} %");
    }

    private static Stem Stem(int index) => new(
        $"Stem {index}", "stem.wav", string.Empty, StemRole.Other, Placement.AsDelivered, new Chain(false, [.. ProcessorIds.Select(Slot)]), [], []);

    private static ChainSlot Slot(string id, int index) => new(
        $"{id}-{index + 1}", id, 1, false, 100, StereoScope.Stereo, null,
        id == "equaliser"
            ? ImmutableSortedDictionary<string, double>.Empty.Add("band2.on", 1).Add("band2.gainDb", -3).Add("band3.on", 1).Add("band3.frequencyHz", 6000).Add("band3.gainDb", 2)
            : ImmutableSortedDictionary<string, double>.Empty,
        string.Empty);

    private static void WriteStem(string path)
    {
        using WavWriter writer = new(path, new WavFormat(SampleRate, 24));
        Random random = new(1);
        float[] noise = [.. Enumerable.Range(0, (Seconds + 1) * SampleRate).Select(_ => 0.2f * (random.NextSingle() - 0.5f))];
        writer.Write(noise, noise);
        writer.Complete();
    }
}
