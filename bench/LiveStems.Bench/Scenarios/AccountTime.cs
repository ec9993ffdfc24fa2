using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// The headroom account of a song with ten stems and forty corrections: the first time, and again after one change. No other
/// program is known to keep one, so the peer is the same question asked by rendering: one whole render per line.
/// </summary>
internal static class AccountTime
{
    /// <summary>Writes the album that is measured, to look at it by other means.</summary>
    public static void Write(string folder, int minutes)
    {
        Directory.CreateDirectory(folder);
        TenStemAlbum.Write(folder, minutes * 60);
        Album album = AlbumFile.Load(folder, BuiltInProcessors.Catalogue);
        Song song = album.Songs[0];
        AlbumFile.Save(album with { Songs = [song with { Stems = [.. song.Stems.Select(WithFour)], Bus = Driven(song.Bus) }] }, folder, BuiltInProcessors.Catalogue);
    }

    public static void Run(int minutes)
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(folder, "cache"));
        try
        {
            Write(folder, minutes);
            PublishedProgram program = PublishedProgram.Publish(folder);
            MeasuredProcess.Result render = Run(program, "render", folder, "--out", Path.Combine(folder, "out"));
            MeasuredProcess.Result first = Run(program, "account", folder);
            Run(program, "set", folder, "1/3/equaliser.band2.gainDb = -4 dB");
            MeasuredProcess.Result again = Run(program, "account", folder);
            const int Lines = 52;
            Console.WriteLine($"headroom account, ten stems of {minutes} minutes, forty corrections, {Environment.ProcessorCount} cores, {program.Description}");
            Console.WriteLine($"first time         {first.Seconds,7:0.0} s {first.PeakMegabytes,6:0} MB");
            Console.WriteLine($"after one change   {again.Seconds,7:0.0} s {again.PeakMegabytes,6:0} MB");
            Console.WriteLine($"by whole renders   {render.Seconds * 2 * Lines,7:0.0} s (one render {render.Seconds:0.00} s, two for each of {Lines} lines)");
        }
        finally
        {
            Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
            Directory.Delete(folder, recursive: true);
        }
    }

    // A limiter that works as on a loud master: some decibels on every burst.
    private static Chain Driven(Chain bus) => bus with
    {
        Slots = bus.Slots.SetItem(bus.Slots.Length - 1, TenStemAlbum.Slot("limiter", ("ceilingDbtp", -1), ("inputGainDb", 14))),
    };

    private static Stem WithFour(Stem stem) => stem with
    {
        Chain = new Chain(false,
        [
            .. stem.Chain.Slots,
            TenStemAlbum.Slot("transient-shaper", ("attackDb", 2)),
            TenStemAlbum.Slot("width", []),
        ]),
    };

    private static MeasuredProcess.Result Run(PublishedProgram program, params string[] arguments) =>
        MeasuredProcess.Run(program.Program, [.. program.FirstArguments, .. arguments]);
}
