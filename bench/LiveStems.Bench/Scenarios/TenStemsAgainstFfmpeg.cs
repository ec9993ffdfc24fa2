using System.Globalization;
using System.Security.Cryptography;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// Ten five-minute stems, each through high-pass, two bells, low-pass and compressor; sum; three bells, compressor,
/// limiter; 24-bit file: this program on one thread and on all, and ffmpeg doing the same on one thread, in turns.
/// </summary>
internal static class TenStemsAgainstFfmpeg
{
    private const string StemChain =
        "highpass=f=40,equalizer=f=300:t=q:w=1:g=-3,equalizer=f=3000:t=q:w=1:g=2,lowpass=f=18000," +
        "acompressor=threshold=0.1:ratio=2:attack=20:release=250";

    private const string BusChain =
        "equalizer=f=80:t=q:w=0.7:g=1,equalizer=f=1000:t=q:w=0.7:g=-1,equalizer=f=8000:t=q:w=0.7:g=1," +
        "acompressor=threshold=0.25:ratio=1.5:attack=20:release=250,alimiter=limit=0.891:level=disabled";

    public static void Run(int minutes, int rounds)
    {
        string folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        try
        {
            PublishedProgram program = PublishedProgram.Publish(folder);
            IReadOnlyList<string> stems = TenStemAlbum.Write(folder, minutes * 60);
            List<MeasuredProcess.Result> peer = [];
            List<MeasuredProcess.Result> one = [];
            List<MeasuredProcess.Result> all = [];
            for (int round = 0; round < rounds; round++)
            {
                peer.Add(RunFfmpeg(stems, Path.Combine(folder, "peer.wav")));
                one.Add(RunOurs(program, folder, "1"));
                all.Add(RunOurs(program, folder, Environment.ProcessorCount.ToString(CultureInfo.InvariantCulture)));
            }

            double peerSeconds = MeasuredProcess.Median(peer.Select(result => result.Seconds));
            Console.WriteLine($"ten stems of {minutes} minutes, medians of {rounds} runs in turns; livestems {program.Description}");
            Report("ffmpeg, one thread", peer, minutes, peerSeconds);
            Report("livestems, one thread", one, minutes, peerSeconds);
            Report($"livestems, {Environment.ProcessorCount} threads", all, minutes, peerSeconds);
            if (program.Whole is { } whole)
            {
                Compare(whole, folder, minutes, rounds, peerSeconds);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // The program as it runs everywhere, and whether it makes the same file.
    private static void Compare(string whole, string folder, int minutes, int rounds, double peerSeconds)
    {
        byte[] quick = Digest(folder);
        PublishedProgram program = new("published", whole, []);
        Report("the same on any machine, one thread", [.. Enumerable.Range(0, rounds).Select(_ => RunOurs(program, folder, "1"))], minutes, peerSeconds);
        Console.WriteLine(quick.AsSpan().SequenceEqual(Digest(folder)) ? "both make the same bytes" : "THE FILES DIFFER");
    }

    private static byte[] Digest(string folder)
    {
        using FileStream master = File.OpenRead(Directory.EnumerateFiles(Path.Combine(folder, "out")).Single());
        return SHA256.HashData(master);
    }

    private static void Report(string name, List<MeasuredProcess.Result> results, int minutes, double peerSeconds)
    {
        double seconds = MeasuredProcess.Median(results.Select(result => result.Seconds));
        double memory = results.Max(result => result.PeakMegabytes);
        Console.WriteLine($"{name,-36} {seconds,8:0.00} s {minutes * 60 / seconds,7:0.0} times real time {peerSeconds / seconds,6:0.00} times the peer {memory,6:0} MB");
    }

    private static MeasuredProcess.Result RunFfmpeg(IReadOnlyList<string> stems, string output)
    {
        List<string> arguments = ["-hide_banner", "-loglevel", "error", "-y", "-threads", "1", "-filter_threads", "1", "-filter_complex_threads", "1"];
        foreach (string stem in stems)
        {
            arguments.AddRange(["-i", stem]);
        }

        string chains = string.Concat(stems.Select((_, index) => $"[{index}:a]{StemChain}[s{index}];"));
        string inputs = string.Concat(stems.Select((_, index) => $"[s{index}]"));
        arguments.AddRange(["-filter_complex", $"{chains}{inputs}amix=inputs={stems.Count}:normalize=0,{BusChain}[o]", "-map", "[o]", "-c:a", "pcm_s24le", output]);
        return MeasuredProcess.Run("ffmpeg", arguments);
    }

    private static MeasuredProcess.Result RunOurs(PublishedProgram program, string folder, string threads) => MeasuredProcess.Run(
        program.Program,
        [.. program.FirstArguments, "render", folder, "--out", Path.Combine(folder, "out"), "--replace", "--threads", threads]);
}
