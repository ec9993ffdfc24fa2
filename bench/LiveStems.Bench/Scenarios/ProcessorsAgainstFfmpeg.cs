using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.RegularExpressions;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Bench.Scenarios;

/// <summary>
/// Every processor in nanoseconds a stereo sample, in blocks of 64 and 512 frames, and the filter of ffmpeg that does most
/// nearly the same, in turns. The filter's time is the user time of the whole program less that of the same program with no filter.
/// </summary>
internal static partial class ProcessorsAgainstFfmpeg
{
    private const int Rounds = 3;
    private const int ProgrammeSeconds = 30;
    private const int PeerSeconds = 150;

    private static readonly Case[] Cases =
    [
        new("compressor", "compressor", [("thresholdDb", -30), ("ratio", 4)], "acompressor=threshold=0.0316:ratio=4:attack=10:release=150"),
        new("compressor, RMS", "compressor", [("thresholdDb", -30), ("ratio", 4), ("detector", 1)], "acompressor=threshold=0.0316:ratio=4:detection=rms"),
        new("de-esser", "de-esser", [], "deesser"),
        new("equaliser, six bands", "equaliser", ProcessorSettings.SixBands, "highpass=f=30,bass=f=120:g=2,equalizer=f=300:t=q:w=1:g=-3,equalizer=f=1000:t=q:w=1:g=-1,equalizer=f=3000:t=q:w=1:g=2,treble=f=9000:g=2"),
        new("equaliser, one dynamic", "equaliser", ProcessorSettings.Dynamic(1), "adynamicequalizer=dfrequency=200:tfrequency=200"),
        new("equaliser, four dynamic", "equaliser", ProcessorSettings.Dynamic(4), string.Join(',', new[] { 200, 566, 1600, 4525 }.Select(f => $"adynamicequalizer=dfrequency={f}:tfrequency={f}"))),
        new("equaliser, linear phase", "equaliser", [.. ProcessorSettings.SixBands, ("phase", 1)], "firequalizer=delay=0.17:gain='gain_interpolate(f)':gain_entry='entry(30,-3);entry(300,-3);entry(1000,-1);entry(3000,2);entry(9000,2)'"),
        new("expander", "expander", [("thresholdDb", -30)], "agate=threshold=0.0316:ratio=3"),
        new("gain", "gain", [("gainDb", -3)], "volume=-3dB"),
        new("limiter (true peak)", "limiter", [("inputGainDb", 12)], "aresample=192000,alimiter=limit=0.891:level=disabled:level_in=4,aresample=48000"),
        new("limiter (true peak)", "limiter", [("inputGainDb", 12)], "alimiter=limit=0.891:level=disabled:level_in=4"),
        new("resonance suppressor", "resonance-suppressor", [], "afftdn"),
        new("room", "room", [], null),
        new("saturator, 4x", "saturator", [("driveDb", 12)], "asoftclip=type=tanh:oversample=4"),
        new("soft clipper, 4x", "soft-clipper", [("inputGainDb", 6)], "asoftclip=type=hard:oversample=4"),
        new("transient shaper", "transient-shaper", [("sustainDb", 3)], null),
        new("width", "width", [], "stereotools=slev=1.25"),
    ];

    public static void Run()
    {
        string file = Path.GetTempFileName();
        try
        {
            WriteProgramme(file);
            ProcessorLoad load = new();
            double[] empty = [.. Cases.Select(_ => double.PositiveInfinity)];
            (double[] live, double[] offline, double[] peer) = ([.. empty], [.. empty], [.. empty]);
            double nothing = double.PositiveInfinity;
            for (int round = 0; round < Rounds; round++)
            {
                nothing = Math.Min(nothing, Peer(file, "anull"));
                for (int i = 0; i < Cases.Length; i++)
                {
                    Processor processor = ProcessorLoad.Prepared(BuiltInProcessors.Catalogue.Create(Cases[i].Id)!, Cases[i].Settings);
                    live[i] = Math.Min(live[i], Ours(load, processor, 64));
                    offline[i] = Math.Min(offline[i], Ours(load, processor, 512));
                    peer[i] = Cases[i].Peer is { } filter ? Math.Min(peer[i], Peer(file, filter)) : 0;
                }
            }

            Console.WriteLine($"ns a stereo sample at 48 kHz, best of {Rounds} rounds in turns");
            Console.WriteLine($"{"",-26}{"64 frames",10}{"512 frames",12}{"ffmpeg",9}  filter");
            for (int i = 0; i < Cases.Length; i++)
            {
                string filter = Cases[i].Peer ?? "none of the kind";
                string time = Cases[i].Peer is null ? "" : $"{peer[i] - nothing:0.0}";
                Console.WriteLine($"{Cases[i].Name,-26}{live[i],10:0.0}{offline[i],12:0.0}{time,9}  {(filter.Length > 60 ? filter[..60] + "…" : filter)}");
            }
        }
        finally
        {
            File.Delete(file);
        }
    }

    // The quickest of ten seconds of programme.
    private static double Ours(ProcessorLoad load, Processor processor, int block)
    {
        load.Run(processor, block);
        double best = double.PositiveInfinity;
        for (int second = 0; second < 10; second++)
        {
            long start = Stopwatch.GetTimestamp();
            load.Run(processor, block);
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalNanoseconds);
        }

        return best / (ProcessorLoad.SampleRate / block * block);
    }

    // The processor time that ffmpeg itself reports.
    private static double Peer(string file, string filter)
    {
        ProcessStartInfo start = new(
            "ffmpeg",
            ["-nostdin", "-hide_banner", "-benchmark", "-threads", "1", "-filter_threads", "1", "-stream_loop", $"{PeerSeconds / ProgrammeSeconds - 1}", "-f", "f32le", "-ar", "48000", "-ac", "2", "-i", file, "-af", filter, "-f", "null", "-"])
        {
            RedirectStandardError = true,
        };
        using Process process = Process.Start(start)!;
        string log = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Match time = UserTime().Match(log);
        return time.Success
            ? 1e9 * double.Parse(time.Groups[1].Value, CultureInfo.InvariantCulture) / (PeerSeconds * ProcessorLoad.SampleRate)
            : throw new InvalidOperationException($"ffmpeg failed: {log}");
    }

    [GeneratedRegex(@"utime=([\d.]+)s")]
    private static partial Regex UserTime();

    private static void WriteProgramme(string file)
    {
        float[] left = ProgrammeSamples.PinkNoise(ProcessorLoad.SampleRate, ProgrammeSeconds, 1);
        float[] right = ProgrammeSamples.PinkNoise(ProcessorLoad.SampleRate, ProgrammeSeconds, 2);
        float[] frames = new float[2 * left.Length];
        for (int n = 0; n < left.Length; n++)
        {
            (frames[2 * n], frames[2 * n + 1]) = (left[n], right[n]);
        }

        File.WriteAllBytes(file, MemoryMarshal.AsBytes(frames.AsSpan()));
    }

    private sealed record Case(string Name, string Id, (string Id, double Value)[] Settings, string? Peer);
}
