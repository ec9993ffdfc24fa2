using System.Diagnostics;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>Whether several of them, each in a process of its own, play on without an underrun and without being late.</summary>
internal static class OutsideSoak
{
    private const int SampleRate = 48_000;

    // The first blocks after the start are no music yet.
    private static readonly TimeSpan Start = TimeSpan.FromSeconds(1);

    public static void Run(int seconds, int processes, int frames)
    {
        using BenchSong song = new(Enumerable.Range(0, processes).Select(_ => "outside-tilt"), seconds + 10);
        ProcessorMaker[] makers = [.. Enumerable.Range(0, processes).Select(number => Renamed(OutsideBuilds.MakersApart("Tilt").Single(), number))];
        song.Rename(number => $"outside-tilt-{number}");
        using GarbageCollections collections = new();
        using SilentDevice device = new(new DeviceSettings(SampleRate, frames));
        using LivePlayer player = new(device, new ProcessorCatalogue(BuiltInProcessors.Makers.Concat(makers)));
        player.Show(song.Song, song.Folder);
        player.Play();
        using HostStalls host = HostStalls.Watch();
        PlayOn(player, Start, host);
        (long underruns, long calls, long faults, long lost) = Counts(player);
        TimeSpan used = Process.GetCurrentProcess().TotalProcessorTime;
        long began = Stopwatch.GetTimestamp();
        long beside = PlayOn(player, TimeSpan.FromSeconds(seconds), host);
        long ended = Stopwatch.GetTimestamp();
        AudioStatistics after = player.Device.Statistics;
        double share = (Process.GetCurrentProcess().TotalProcessorTime - used).TotalSeconds / seconds;
        (long underrunsNow, long callsNow, long faultsNow, long lostNow) = Counts(player);
        string priority = after.Priority == AudioThreadPriority.RealTime ? "real-time (SCHED_FIFO)" : $"{after.Priority}, not real-time";
        Console.WriteLine($"{processes} processes at {frames} frames for {seconds} s on {Environment.ProcessorCount} cores, device's thread {priority}");
        Console.WriteLine($"underruns of the device: {underrunsNow - underruns} in {callsNow - calls} calls; the dry sound stood in {faultsNow - faults} times, for {lostNow - lost} frames");
        LatenessTally tally = new("device", (double)frames / SampleRate);
        tally.Add(device.Statistics, host, collections, began);
        Console.WriteLine($"from the start: {tally}");
        Console.WriteLine(host.IsWatching
            ? $"the machine stood still for {host.TicksWithin(began, ended) * 1e3 / Stopwatch.Frequency:0} ms; {beside} of the times that the dry sound stood in came within 40 ms of that"
            : "stalls of the machine are not known: they need the right to SCHED_FIFO");
        Console.WriteLine($"load of the audio thread: median {after.ShareAt(0.5) * 100:0.0} %, 99.9 % within {after.ShareAt(0.999) * 100:0.0} %, worst {after.WorstShare * 100:0.0} %; the program without its processes {share * 100:0} % of a core");
    }

    // Gives how often the dry sound stood in within a look's time of a stall of the machine.
    private static long PlayOn(LivePlayer player, TimeSpan time, HostStalls host)
    {
        Stopwatch clock = Stopwatch.StartNew();
        long beside = 0;
        (long faults, long looked) = (Counts(player).Faults, Stopwatch.GetTimestamp());
        while (clock.Elapsed < time)
        {
            foreach (string trouble in player.Update())
            {
                Console.WriteLine($"{clock.Elapsed.TotalSeconds:0.0} s: {trouble}");
            }

            Thread.Sleep(40);
            (long faultsNow, long now) = (Counts(player).Faults, Stopwatch.GetTimestamp());
            beside += host.TicksWithin(looked, now) > 0 ? faultsNow - faults : 0;
            (faults, looked) = (faultsNow, now);
        }

        return beside;
    }

    private static (long Underruns, long Calls, long Faults, long FramesLost) Counts(LivePlayer player) =>
        (player.Device.Statistics.Underruns, player.Device.Statistics.Calls, player.Outside.Sum(use => use.Faults), player.Outside.Sum(use => use.FramesLost));

    private static ProcessorMaker Renamed(ProcessorMaker maker, int number) =>
        new(maker.Description with { Id = $"{maker.Description.Id}-{number}" }, maker.Create) { RunsApart = true };
}
