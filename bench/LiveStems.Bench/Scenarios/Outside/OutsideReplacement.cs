using System.Diagnostics;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>How long it takes from a new build of one to its sound.</summary>
internal static class OutsideReplacement
{
    private const int SampleRate = 48_000;

    public static void Run(int rounds)
    {
        string root = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        HostingPlaces places = new(Path.Combine(root, "processors"), Path.Combine(root, "settings", "trusted.json"));
        Directory.CreateDirectory(places.Folder);
        string file = Path.Combine(places.Folder, "Scaled.dll");
        byte[] built = File.ReadAllBytes(OutsideBuilds.Built("Scaled"));
        File.WriteAllBytes(file, built);
        ProcessorHost host = ProcessorHost.Open(places);
        host.DecideOwnWork(file, true);
        host = ProcessorHost.Open(places);
        using BenchSong song = new(["outside-scaled"], 5 * rounds + 20);
        Heard heard = new();
        using SilentDevice device = new(new DeviceSettings(SampleRate, 256));
        using LivePlayer player = new(device, host.Catalogue, heard.Over);
        using ProcessorWatch watch = new(places, host);
        player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        player.Show(song.Song, song.Folder);
        player.Play();
        Stopwatch clock = Stopwatch.StartNew();
        while (clock.Elapsed.TotalSeconds < 2)
        {
            Update(player, watch);
        }

        for (int round = 0; round < rounds; round++)
        {
            float factor = round % 2 == 0 ? 0.75f : 0.375f;
            heard.Wait(factor * BenchSong.Level);
            long start = Stopwatch.GetTimestamp();
            File.WriteAllBytes(file, WithFactor(built, factor));
            while (!heard.HasArrived && Stopwatch.GetElapsedTime(start).TotalSeconds < 5)
            {
                Update(player, watch);
            }

            Console.WriteLine($"from the file's change to its sound: {Stopwatch.GetElapsedTime(start).TotalMilliseconds:0} ms");
        }

        player.Dispose();
        Directory.Delete(root, recursive: true);
    }

    private static void Update(LivePlayer player, ProcessorWatch watch)
    {
        if (watch.TakeChange() is { } change)
        {
            player.Replace(change.Host.Catalogue);
        }

        foreach (string trouble in player.Update())
        {
            Console.WriteLine(trouble);
        }

        Thread.Sleep(10);
    }

    private static byte[] WithFactor(byte[] built, float factor)
    {
        byte[] changed = [.. built];
        byte[] load = [0x22, .. BitConverter.GetBytes(0.375f)];
        for (int at = changed.AsSpan().IndexOf(load); factor != 0.375f && at >= 0; at = changed.AsSpan().IndexOf(load))
        {
            BitConverter.TryWriteBytes(changed.AsSpan(at + 1), factor);
        }

        return changed;
    }

    // What the device gets, looked at for a level.
    private sealed class Heard
    {
        private float wanted = -1;
        private volatile bool hasArrived;

        public bool HasArrived => hasArrived;

        public void Wait(float level)
        {
            hasArrived = false;
            Volatile.Write(ref wanted, level);
        }

        public IAudioRenderer Over(IAudioRenderer source) => new Looking(source, this);

        private sealed class Looking(IAudioRenderer source, Heard heard) : IAudioRenderer
        {
            private float peak;
            private int frames;

            public void Render(Span<float> left, Span<float> right)
            {
                source.Render(left, right);
                foreach (float sample in left)
                {
                    peak = Math.Max(peak, Math.Abs(sample));
                    if (++frames == SampleRate / 250)
                    {
                        if (Math.Abs(peak - Volatile.Read(ref heard.wanted)) < 0.02f * BenchSong.Level)
                        {
                            heard.hasArrived = true;
                        }

                        peak = 0;
                        frames = 0;
                    }
                }
            }
        }
    }
}
