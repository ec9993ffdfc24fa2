using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// A song of an album on the silent clocked device, with and without a thread that allocates 200 MB a second, in turns
/// with a bare C loop of the same period and work.
/// </summary>
internal static class LiveLateness
{
    private const int GarbageBytesPerSecond = 200_000_000;

    public static void Run(string albumFolder, double seconds)
    {
        Album album = AlbumFile.Load(albumFolder, BuiltInProcessors.Catalogue);
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        string control = ControlLoop.Build(folder);
        using GarbageCollections collections = new();
        foreach (int frames in new[] { 64, 256 })
        {
            double work = 0;
            foreach (bool hasGarbage in new[] { false, true })
            {
                work = Play(album.Songs[0], albumFolder, frames, seconds, hasGarbage, collections);
                double period = frames / 48_000.0;
                using Garbage? garbage = hasGarbage ? new Garbage(GarbageBytesPerSecond) : null;
                Console.WriteLine($"{frames,4} frames, control loop{(hasGarbage ? ", beside garbage" : string.Empty)}: {ControlLoop.Run(control, period, work, (int)(seconds / period))}");
            }
        }

        Console.WriteLine($"garbage collections {collections.Count}, longest stop {collections.LongestMilliseconds:0.00} ms");
        Directory.Delete(folder, recursive: true);
    }

    private static double Play(Song song, string albumFolder, int frames, double seconds, bool hasGarbage, GarbageCollections collections)
    {
        using SilentDevice device = new(new DeviceSettings(48_000, frames));
        using LivePlayer player = new(device, BuiltInProcessors.Catalogue);
        player.Show(song, albumFolder);
        player.Play();
        double before = collections.LongestMilliseconds;
        using (Garbage? garbage = hasGarbage ? new Garbage(GarbageBytesPerSecond) : null)
        {
            for (double done = 0; done < seconds; done += 0.04)
            {
                player.Update();
                Thread.Sleep(40);
            }
        }

        AudioStatistics statistics = device.Statistics;
        DurationHistogram late = statistics.Lateness;
        Console.WriteLine(
            $"{frames,4} frames, livestems{(hasGarbage ? ", beside garbage" : string.Empty)} ({statistics.Priority}): lateness µs: median {late.SecondsAt(0.5) * 1e6:0} 99 % {late.SecondsAt(0.99) * 1e6:0} 99.9 % {late.SecondsAt(0.999) * 1e6:0} worst {late.WorstSeconds * 1e6:0}; missed {statistics.Underruns} of {statistics.Calls}; load median {statistics.ShareAt(0.5) * 100:0.0} %, call worst {statistics.WorstShare * 100:0} %; longest stop by collections {Math.Max(before, collections.LongestMilliseconds):0.00} ms");
        return statistics.CallTimes.SecondsAt(0.5);
    }

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
