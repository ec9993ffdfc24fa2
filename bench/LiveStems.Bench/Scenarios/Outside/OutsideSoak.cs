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
        using SilentDevice device = new(new DeviceSettings(SampleRate, frames));
        using LivePlayer player = new(device, new ProcessorCatalogue(BuiltInProcessors.Makers.Concat(makers)));
        player.Show(song.Song, song.Folder);
        player.Play();
        PlayOn(player, Start);
        PlayerState before = player.Look();
        (long underruns, long calls, long faults, long lost) = Counts(before);
        TimeSpan used = Process.GetCurrentProcess().TotalProcessorTime;
        PlayOn(player, TimeSpan.FromSeconds(seconds));
        PlayerState after = player.Look();
        double share = (Process.GetCurrentProcess().TotalProcessorTime - used).TotalSeconds / seconds;
        (long underrunsNow, long callsNow, long faultsNow, long lostNow) = Counts(after);
        string priority = after.Device.Priority == AudioThreadPriority.RealTime ? "real-time (SCHED_FIFO)" : $"{after.Device.Priority}, not real-time";
        Console.WriteLine($"{processes} processes at {frames} frames for {seconds} s on {Environment.ProcessorCount} cores, device's thread {priority}");
        Console.WriteLine($"underruns of the device: {underrunsNow - underruns} in {callsNow - calls} calls; the dry sound stood in {faultsNow - faults} times, for {lostNow - lost} frames");
        Console.WriteLine($"load of the audio thread: median {after.Device.ShareAt(0.5) * 100:0.0} %, 99.9 % within {after.Device.ShareAt(0.999) * 100:0.0} %, worst {after.Device.WorstShare * 100:0.0} %; the program without its processes {share * 100:0} % of a core");
    }

    private static void PlayOn(LivePlayer player, TimeSpan time)
    {
        Stopwatch clock = Stopwatch.StartNew();
        while (clock.Elapsed < time)
        {
            foreach (string trouble in player.Update())
            {
                Console.WriteLine($"{clock.Elapsed.TotalSeconds:0.0} s: {trouble}");
            }

            Thread.Sleep(40);
        }
    }

    private static (long Underruns, long Calls, long Faults, long FramesLost) Counts(PlayerState state) =>
        (state.Device.Underruns, state.Device.Calls, state.Outside.Sum(use => use.Faults), state.Outside.Sum(use => use.FramesLost));

    private static ProcessorMaker Renamed(ProcessorMaker maker, int number) =>
        new(maker.Description with { Id = $"{maker.Description.Id}-{number}" }, maker.Create) { RunsApart = true };
}
