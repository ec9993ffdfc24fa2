using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// What a live comparison costs on the audio thread, beside the song alone and beside its song chain: blocks of 256 frames
/// of the last song of an album, all variants block by block in turns.
/// </summary>
internal static class CompareCost
{
    private const int Frames = 256;
    private const int Seconds = 8;
    private const int FirstSecond = 30;

    public static void Run(string folder)
    {
        Song song = AlbumFile.Load(folder, BuiltInProcessors.Catalogue).Songs[^1];
        Stem voice = song.Stems.First(stem => stem.Role == StemRole.LeadVocal);
        ChainPlace place = new(voice.Name);
        (string Name, Comparison? Comparison)[] variants =
        [
            ("the song alone", null),
            ($"{voice.Name}, {voice.Chain.Slots[^1].Id}, alone", new Comparison(new ProcessorScope(place, voice.Chain.Slots[^1].Id), false)),
            ($"{voice.Name}, {voice.Chain.Slots[^1].Id}, in the song", new Comparison(new ProcessorScope(place, voice.Chain.Slots[^1].Id), true)),
            ($"chain of {voice.Name}, in the song", new Comparison(new ChainScope(place), true)),
            ("all stems, in the song", new Comparison(new AllStemsScope(), true)),
            ("song chain", new Comparison(new ChainScope(ChainPlace.SongChain), true)),
        ];
        Variant[] running = [.. variants.Select(each => new Variant(each.Name, song, folder, each.Comparison))];
        using ChainRunner songChain = new(song.Bus, BuiltInProcessors.Catalogue, new ProcessingFormat(running[0].Sources.SampleRate, Frames));
        List<double> songChainTimes = [];
        float[] left = new float[Frames];
        float[] right = new float[Frames];
        for (int block = 0; block < Seconds * running[0].Sources.SampleRate / Frames; block++)
        {
            foreach (Variant variant in running)
            {
                variant.RunBlock();
            }

            running[0].Plan.Output.Left.AsSpan(0, Frames).CopyTo(left);
            running[0].Plan.Output.Right.AsSpan(0, Frames).CopyTo(right);
            long start = Stopwatch.GetTimestamp();
            songChain.Process(left, right);
            songChainTimes.Add(Stopwatch.GetElapsedTime(start).TotalMicroseconds);
        }

        double alone = running[0].MedianMicroseconds;
        Console.WriteLine($"song chain once: {Median(songChainTimes):0.0} µs a block");
        foreach (Variant variant in running)
        {
            Console.WriteLine($"{variant.Name}: median {variant.MedianMicroseconds:0.0} µs a block, {variant.MedianMicroseconds - alone:+0.0;−0.0;0.0} µs");
            variant.Dispose();
        }
    }

    private static double Median(List<double> times)
    {
        times.Sort();
        return times[times.Count / 2];
    }

    private sealed class Variant : IDisposable
    {
        private readonly PlayingSong playing;
        private readonly List<double> times = [];

        public Variant(string name, Song song, string folder, Comparison? comparison)
        {
            Name = name;
            ComparedSongs songs = comparison?.Of(song) ?? ComparedSongs.Only(song);
            PlanOptions options = new(Frames, 32_768) { IsLive = true };
            Sources = SongSources.Open(songs, folder, options);
            Plan = SongCompiler.Compile(songs, Sources, BuiltInProcessors.Catalogue, options).Plan;
            SideMix? sides = Plan.InOutput is null ? null : new SideMix(Sources.SampleRate, Frames, new SideTargets(0, 1, 0, 1, 1));
            playing = new PlayingSong(Plan, Sources.Head, [.. Sources.Pumps.Select(pump => pump.Feed)], Sources.Frames, sides);
            Sources.Head.OpenAtStart();
            foreach (StemPump pump in Sources.Pumps)
            {
                pump.Start(RingStart.First with { SongFrame = (long)FirstSecond * Sources.SampleRate });
            }
        }

        public string Name { get; }

        public SongSources Sources { get; }

        public Plan Plan { get; }

        public double MedianMicroseconds => Median(times);

        public void RunBlock()
        {
            foreach (StemPump pump in Sources.Pumps)
            {
                pump.FillTo(Frames + pump.Feed.ReserveFrames);
            }

            long start = Stopwatch.GetTimestamp();
            playing.TakeStems(Frames);
            playing.Run(Frames);
            times.Add(Stopwatch.GetElapsedTime(start).TotalMicroseconds);
        }

        public void Dispose() => Sources.Dispose();
    }
}
