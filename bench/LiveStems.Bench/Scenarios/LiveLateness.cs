using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A song of an album on the silent clocked device, with and without a thread that allocates 200 MB a second, with and
/// without SCHED_FIFO, in turns with a bare C loop of the same period and work. What the runtime's garbage collector stopped
/// is recorded with its time, so that each missed period can be held against it.
/// </summary>
internal static class LiveLateness
{
    private const int GarbageBytesPerSecond = 200_000_000;
    private const int SampleRate = 48_000;

    private static readonly (bool IsRealTime, bool HasGarbage)[] Conditions = [(false, false), (false, true), (true, false), (true, true)];

    /// <param name="albumFolder">The album; its first song plays.</param>
    /// <param name="seconds">Seconds of each run of either side.</param>
    /// <param name="rounds">Times that both sides take turns.</param>
    /// <param name="bufferFrames">Frames of a period, one after the other.</param>
    /// <param name="conditions">Which of the four: plain, with garbage, with SCHED_FIFO, with both; by their numbers from 1.</param>
    public static void Run(string albumFolder, double seconds, int rounds, IReadOnlyList<int> bufferFrames, IReadOnlyList<int> conditions)
    {
        Album album = AlbumFile.Load(albumFolder, BuiltInProcessors.Catalogue);
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        try
        {
            string control = ControlLoop.Build(folder);
            using HostStalls host = HostStalls.Watch();
            using GarbageCollections collections = new();
            foreach (int frames in bufferFrames)
            {
                foreach (int condition in conditions)
                {
                    (bool isRealTime, bool hasGarbage) = Conditions[condition - 1];
                    Compare(album.Songs[0], albumFolder, control, new Setting(frames, seconds, rounds, isRealTime, hasGarbage), host, collections);
                }
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Compare(Song song, string albumFolder, string control, Setting setting, HostStalls host, GarbageCollections collections)
    {
        Console.WriteLine($"{setting.Frames,4} frames, {(setting.IsRealTime ? "SCHED_FIFO where allowed" : "no SCHED_FIFO")}{(setting.HasGarbage ? ", beside 200 MB/s of garbage" : string.Empty)}");
        double period = (double)setting.Frames / SampleRate;
        LatenessTally ours = new("livestems", period);
        LatenessTally theirs = new("control", period);
        long before = Stopwatch.GetTimestamp();
        for (int round = 0; round < setting.Rounds; round++)
        {
            long began = Stopwatch.GetTimestamp();
            AudioStatistics statistics = Play(song, albumFolder, setting);
            ours.Add(statistics, host, collections, began);
            using Garbage? garbage = setting.HasGarbage ? new Garbage(GarbageBytesPerSecond) : null;
            int count = (int)(setting.Seconds / period);
            DurationHistogram lateness = new();
            theirs.Add(ControlLoop.Run(control, period, statistics.CallTimes.SecondsAt(0.5), count, new DeviceSettings(SampleRate, setting.Frames).WaitingBuffers(SampleRate), setting.IsRealTime, lateness), count, lateness, host);
        }

        Console.WriteLine($"  {ours}");
        Console.WriteLine($"  {theirs}");
        long now = Stopwatch.GetTimestamp();
        IReadOnlyList<RuntimeStop> stops = collections.Within(before, now);
        string machine = host.IsWatching ? $"the machine stood still for {host.TicksWithin(before, now) * 1e3 / Stopwatch.Frequency:0} ms of {(now - before) / (double)Stopwatch.Frequency:0} s" : "stalls of the machine are not known: they need the right to SCHED_FIFO";
        Console.WriteLine($"  {stops.Count} stops of the runtime, the longest {stops.Select(stop => stop.Milliseconds).DefaultIfEmpty().Max():0.00} ms; {machine}");
        foreach (IGrouping<(int Generation, bool IsConcurrent), RuntimeStop> kind in stops.GroupBy(stop => (stop.Generation, stop.IsConcurrent)).OrderBy(kind => kind.Key))
        {
            double[] milliseconds = [.. kind.Select(stop => stop.Milliseconds).Order()];
            string words = $"{(kind.Key.IsConcurrent ? "concurrent " : string.Empty)}generation {kind.Key.Generation}";
            Console.WriteLine($"    {words,-24} {milliseconds.Length,6}, median {milliseconds[milliseconds.Length / 2]:0.00} ms, 99 % {milliseconds[milliseconds.Length * 99 / 100]:0.00} ms, longest {milliseconds[^1]:0.00} ms");
        }
    }

    private static AudioStatistics Play(Song song, string albumFolder, Setting setting)
    {
        using SilentDevice device = new(new DeviceSettings(SampleRate, setting.Frames)) { WantsRealTime = setting.IsRealTime };
        using LivePlayer player = new(device, BuiltInProcessors.Catalogue);
        player.Show(song, albumFolder);
        player.Play();
        using (Garbage? garbage = setting.HasGarbage ? new Garbage(GarbageBytesPerSecond) : null)
        {
            bool isLooping = false;
            for (double done = 0; done < setting.Seconds; done += 0.04)
            {
                player.Update();
                if (!isLooping && player.Look().LengthSeconds is > 1 and var length)
                {
                    player.JumpTo(0, (0, length));
                    isLooping = true;
                }

                Thread.Sleep(40);
            }
        }

        device.Stop();
        return device.Statistics;
    }

    private sealed record Setting(int Frames, double Seconds, int Rounds, bool IsRealTime, bool HasGarbage);

    private sealed class Garbage : IDisposable
    {
        private readonly Thread thread;
        private volatile bool isStopping;

        public Garbage(int bytesPerSecond)
        {
            thread = new Thread(() =>
            {
                object[] kept = new object[64];
                for (int i = 0; !isStopping; i++)
                {
                    for (int piece = 0; piece < 20; piece++)
                    {
                        kept[(i + piece) % kept.Length] = new byte[bytesPerSecond / 20_000];
                    }

                    Thread.Sleep(1);
                }

                GC.KeepAlive(kept);
            })
            { IsBackground = true };
            thread.Start();
        }

        public void Dispose()
        {
            isStopping = true;
            thread.Join();
        }
    }
}
