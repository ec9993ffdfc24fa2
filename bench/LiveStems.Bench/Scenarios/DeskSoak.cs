using System.Diagnostics;
using LiveStems.Albums.Journal;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Processing.Catalogue;
using LiveStems.View.Desk;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// Random hands on a desk with the silent device for as long as is asked for, on a copy of an album's settings. No
/// exception may come, memory must stay level, and the sound must never run dry.
/// </summary>
internal static class DeskSoak
{
    private const double PicturesPerSecond = 60;
    private const int PicturesPerAction = 6;
    private const int PicturesPerReport = 60 * 30;

    /// <param name="albumFolder">The album; its settings are put back at the end.</param>
    /// <param name="minutes">How long.</param>
    /// <param name="seed">What the hands do.</param>
    /// <param name="namesTypes">True to say which types were put on the heap; that makes collections longer than they are.</param>
    public static void Run(string albumFolder, double minutes, int seed, bool namesTypes)
    {
        string file = AlbumFile.FileOf(albumFolder);
        string journal = Path.Combine(Path.GetDirectoryName(file)!, JournalFile.Name);
        byte[] saved = File.ReadAllBytes(file);
        byte[]? savedJournal = File.Exists(journal) ? File.ReadAllBytes(journal) : null;
        try
        {
            Play(albumFolder, minutes, seed, namesTypes);
        }
        finally
        {
            File.WriteAllBytes(file, saved);
            if (savedJournal is null)
            {
                // Else the next to open the album would be given back what the hands have done.
                File.Delete(journal);
            }
            else
            {
                File.WriteAllBytes(journal, savedJournal);
            }
        }
    }

    private static void Play(string albumFolder, double minutes, int seed, bool namesTypes)
    {
        using HostStalls host = HostStalls.Watch();
        using GarbageCollections collections = new();
        using SilentDevice device = new(new DeviceSettings(48_000, DeviceSettings.UsualBufferFrames));
        using AlbumDesk desk = AlbumDesk.Open(albumFolder, BuiltInProcessors.Catalogue, device);
        RandomHands hands = new(desk, seed);
        long began = Stopwatch.GetTimestamp();
        desk.Transport.Play();
        LookOn(desk);
        Stopwatch clock = Stopwatch.StartNew();
        TimeSpan worst = TimeSpan.Zero;
        HandCosts costs = new();
        using AllocationWatch? watch = namesTypes ? new AllocationWatch() : null;
        long allocated = GC.GetAllocatedBytesForCurrentThread();
        Console.WriteLine($"seed {seed}, {minutes} min; device {device.Name}, {device.BufferFrames} frames");
        for (long picture = 0; clock.Elapsed.TotalMinutes < minutes; picture++)
        {
            TimeSpan before = clock.Elapsed;
            if (picture % PicturesPerAction == 0)
            {
                costs.Take(() =>
                {
                    hands.DoOne();
                    return hands.Latest;
                });
            }

            costs.Take(() =>
            {
                desk.Update();
                return "pictures";
            });
            TimeSpan took = clock.Elapsed - before;
            worst = took > worst ? took : worst;
            if (picture % PicturesPerReport == 0)
            {
                Report(clock, hands, desk, worst, allocated);
                worst = TimeSpan.Zero;
            }

            double rest = (picture + 1) / PicturesPerSecond - clock.Elapsed.TotalSeconds;
            if (rest > 0)
            {
                Thread.Sleep(TimeSpan.FromSeconds(rest));
            }
        }

        Report(clock, hands, desk, worst, allocated);
        LatenessTally tally = new("device", (double)device.BufferFrames / device.SampleRate);
        tally.Add(device.Statistics, host, collections, began);
        Console.WriteLine(tally);
        costs.Tell(clock.Elapsed.TotalSeconds);
        foreach ((string type, bool isLarge, double megabytes) in watch?.Largest(25) ?? [])
        {
            Console.WriteLine($"  {megabytes / clock.Elapsed.TotalSeconds,8:0.000} MB/s{(isLarge ? " in large objects" : string.Empty)}  {type}");
        }
    }

    // Nobody touches anything: what pictures alone allocate.
    private static void LookOn(AlbumDesk desk)
    {
        const int Pictures = 600;
        long allocated = 0;
        for (int picture = 0; picture < Pictures; picture++)
        {
            if (picture == Pictures / 2)
            {
                allocated = GC.GetAllocatedBytesForCurrentThread();
            }

            desk.Update();
            Thread.Sleep(TimeSpan.FromSeconds(1 / PicturesPerSecond));
        }

        double bytes = (GC.GetAllocatedBytesForCurrentThread() - allocated) / (Pictures / 2.0);
        AudioStatistics audio = desk.Device.Statistics;
        Console.WriteLine($"untouched: {bytes * PicturesPerSecond / 1e6:0.000} MB/s allocated by the desk; sound takes {audio.ShareAt(0.5) * 100:0.0} % of its time (median), {audio.ShareAt(0.99) * 100:0.0} % (99 %), {audio.Underruns} underruns");
    }

    private static void Report(Stopwatch clock, RandomHands hands, AlbumDesk desk, TimeSpan worst, long allocated)
    {
        AudioStatistics audio = desk.Device.Statistics;
        long bytes = GC.GetAllocatedBytesForCurrentThread() - allocated;
        Console.WriteLine(
            $"{clock.Elapsed.TotalMinutes,6:0.0} min  {hands.Done} actions, {hands.Refused} refused; heap {GC.GetTotalMemory(false) / 1e6:0} MB, {GC.GetGCMemoryInfo(GCKind.Background).HeapSizeBytes / 1e6:0} MB after the last full collection, stopped for {GC.GetTotalPauseDuration().TotalMilliseconds:0} ms in all; "
            + $"{bytes / 1e6 / Math.Max(1, clock.Elapsed.TotalSeconds):0.00} MB/s allocated; longest picture {worst.TotalMilliseconds:0} ms; {audio.Calls} calls, sound takes {audio.Load * 100:0} % now, 99 % within {audio.ShareAt(0.99) * 100:0} %; {audio.Underruns} underruns, {audio.Faults} faults, {desk.Transport.MissedFrames} frames late from disk");
    }
}
