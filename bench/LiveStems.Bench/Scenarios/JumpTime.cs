using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// How long after a jump to a random place the first block from there is rendered, while the song plays on the silent
/// device: with the stems in the system's file cache, and with the cache emptied before each jump (which takes root).
/// </summary>
internal static class JumpTime
{
    private const string CacheSwitch = "/proc/sys/vm/drop_caches";
    private const int SampleRate = 48_000;
    private const int BufferFrames = 256;
    private const double LongestWaitSeconds = 2;

    // What is heard lags behind what is rendered by the latency of the processors.
    private const double LongestLatencySeconds = 0.5;

    /// <param name="albumFolder">The album; its first song plays.</param>
    /// <param name="jumps">Jumps of each kind.</param>
    public static void Run(string albumFolder, int jumps)
    {
        Song song = AlbumFile.Load(albumFolder, BuiltInProcessors.Catalogue).Songs[0];
        using SilentDevice device = new(new DeviceSettings(SampleRate, BufferFrames));
        using LivePlayer player = new(device, BuiltInProcessors.Catalogue);
        player.Show(song, albumFolder);
        player.Play();
        WaitFor(player, state => state.PositionSeconds > 1);
        Tell("stems in the file cache", Times(player, jumps, () => { }), player);
        if (CanEmptyCache())
        {
            Tell("file cache emptied before each jump", Times(player, jumps, EmptyCache), player);
        }
    }

    private static double[] Times(LivePlayer player, int jumps, Action before)
    {
        double[] milliseconds = new double[jumps];
        double length = player.Look().LengthSeconds;
        for (int jump = 0; jump < jumps; jump++)
        {
            double now = player.Look().PositionSeconds;
            double target = now;
            while (Math.Abs(target - now) < 5)
            {
                target = Random.Shared.NextDouble() * (length - 5);
            }

            before();
            long start = Stopwatch.GetTimestamp();
            player.JumpTo(target);
            WaitFor(player, state => state.PositionSeconds > target - LongestLatencySeconds && state.PositionSeconds < target + 2);
            milliseconds[jump] = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
            WaitFor(player, state => state.PositionSeconds >= target + 0.3);
        }

        Array.Sort(milliseconds);
        return milliseconds;
    }

    private static void WaitFor(LivePlayer player, Func<PlayerState, bool> isTrue)
    {
        long start = Stopwatch.GetTimestamp();
        while (!isTrue(player.Look()))
        {
            if (Stopwatch.GetElapsedTime(start).TotalSeconds > LongestWaitSeconds)
            {
                throw new InvalidOperationException("the player did not get there within two seconds");
            }

            player.Update();
            Thread.Sleep(1);
        }
    }

    private static void Tell(string name, double[] milliseconds, LivePlayer player) => Console.WriteLine(
        $"{name}: {milliseconds.Length} jumps, median {milliseconds[milliseconds.Length / 2]:0.0} ms, 95 % within {milliseconds[(int)(milliseconds.Length * 0.95)]:0.0} ms, worst {milliseconds[^1]:0.0} ms; {player.Look().MissedFrames} frames of stems missed");

    private static bool CanEmptyCache()
    {
        try
        {
            EmptyCache();
            return true;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            Console.WriteLine("file cache not emptied: that takes root on Linux");
            return false;
        }
    }

    private static void EmptyCache() => File.WriteAllText(CacheSwitch, "1");
}
