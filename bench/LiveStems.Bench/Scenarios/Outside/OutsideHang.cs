using System.Diagnostics;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios.Outside;

/// <summary>
/// How long it takes until there is sound again when one inside the program never returns: the longest silence that the device
/// gets, beside a stem that never stops sounding.
/// </summary>
internal static class OutsideHang
{
    private const int SampleRate = 48_000;
    private const int Frames = 256;
    private const double AimMilliseconds = 100;

    public static void Run(int rounds)
    {
        double[] silences = [.. Enumerable.Range(0, rounds).Select(_ => Once()).Order()];
        int within = silences.Count(silence => silence <= AimMilliseconds);
        Console.WriteLine(
            $"one that never returns, {Frames} frames, {rounds} rounds: sound is back after {silences[0]:0} ms at best, {silences[rounds / 2]:0} ms in the middle, {silences[^1]:0} ms at worst; {within} of {rounds} within {AimMilliseconds:0} ms");
    }

    private static double Once()
    {
        using BenchSong song = new(["hostile-hangs", null], 10);
        using ListenedDevice device = new(new SilentDevice(new DeviceSettings(SampleRate, Frames)));
        using LivePlayer player = new(device, new ProcessorCatalogue([.. BuiltInProcessors.Makers, OutsideBuilds.Maker("Hostile", "hostile-hangs")]));
        player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        player.Show(song.Song, song.Folder);
        player.Play();
        string told = "nothing was told";
        Stopwatch clock = Stopwatch.StartNew();
        while (clock.Elapsed.TotalSeconds < 3)
        {
            told = player.Update() is [var first, ..] ? first : told;
            Thread.Sleep(20);
        }

        double silence = 1000.0 * device.LongestSilence / SampleRate;
        string end = device.IsSounding ? "the song plays on" : "no sound at the end";
        Console.WriteLine($"{told}: {silence:0} ms of silence at the device; {end}");
        return device.IsSounding ? silence : double.PositiveInfinity;
    }
}
