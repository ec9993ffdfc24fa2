using System.Collections.Immutable;
using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Bench.Scenarios;

/// <summary>What processors of others cost, inside the program and in a process of their own, and how fast they are replaced or passed by.</summary>
internal static class OutsideProcessors
{
    private const int SampleRate = 48_000;
    private const float Level = 0.1f;

    /// <summary>outside cost | soak [SECONDS] [PROCESSES] [FRAMES] | hang [ROUNDS] | replace [ROUNDS]</summary>
    public static void Run(string[] arguments)
    {
        int Number(int index, int otherwise) => arguments.Length > index ? int.Parse(arguments[index]) : otherwise;
        switch (arguments.FirstOrDefault())
        {
            case "cost":
                Cost(128);
                break;
            case "soak":
                Soak(Number(1, 300), Number(2, 6), Number(3, 128));
                break;
            case "hang":
                Hang(Number(1, 5));
                break;
            case "replace":
                Replace(Number(1, 5));
                break;
            default:
                Console.Error.WriteLine("outside cost | soak [SECONDS] [PROCESSES] [FRAMES] | hang [ROUNDS] | replace [ROUNDS]");
                break;
        }
    }

    private static void Cost(int frames)
    {
        ProcessingFormat format = new(SampleRate, frames);
        Processor bare = Prepared(Maker("Tilt", "outside-tilt"), format);
        float[] left = Noise(frames);
        float[] right = Noise(frames);
        double alone = MedianNanoseconds(20_000, () => bare.Process(new StereoBlock(left, right)));
        StereoBuffer buffer = new(frames);
        OutsideGuard guard = new(TimeProvider.System);
        double inside = 0;

        // As the rendering thread of the live driver calls it.
        Thread rendering = new(() =>
        {
            guard.BeginThread();
            inside = MedianNanoseconds(20_000, Step(Maker("Tilt", "outside-tilt"), format, buffer, left, right, guard));
        });
        rendering.Start();
        rendering.Join();
        Console.WriteLine($"{frames} frames: outside-tilt alone {alone:0} ns a block, in its step inside the program {inside:0} ns: {inside - alone:0} ns of overhead");

        using IsolatedProcessor apart = (IsolatedProcessor)MakersApart("Tilt").Single().Create();
        apart.Prepare(format);
        Report("one after the other, waited for", frames, Times(20_000, TimeSpan.Zero, () => apart.Process(new StereoBlock(left, right))));

        Report("one a period, from handing over to its being back", frames, Times(2000, TimeSpan.FromSeconds((double)frames / SampleRate), () => apart.Process(new StereoBlock(left, right))));
        using IsolatedProcessor live = (IsolatedProcessor)MakersApart("Tilt").Single().Create();
        live.IsLive = true;
        live.Prepare(format);
        Thread.Sleep(500);
        double[] exchange = Times(2000, TimeSpan.FromSeconds((double)frames / SampleRate), () => live.Process(new StereoBlock(left, right)));
        Report("what the audio thread spends on it live, one a period", frames, exchange);
        Console.WriteLine($"of those {live.LostFrames} frames were late, in {live.Lapses} lapses");
    }

    private static Action Step(ProcessorMaker maker, ProcessingFormat format, StereoBuffer buffer, float[] left, float[] right, OutsideGuard guard)
    {
        ProcessorStep step = new(Prepared(maker, format), buffer, null, StereoScope.Stereo, 1, format, keepsDry: true) { Guard = guard };
        PlanBlock block = new(left.Length, 0);
        return () =>
        {
            left.CopyTo(buffer.Left, 0);
            right.CopyTo(buffer.Right, 0);
            step.Run(block);
        };
    }

    private static void Soak(int seconds, int processes, int frames)
    {
        using BenchSong song = new(Enumerable.Range(0, processes).Select(_ => "outside-tilt"), seconds + 5);
        ProcessorMaker[] makers = [.. Enumerable.Range(0, processes).Select(number => Renamed(MakersApart("Tilt").Single(), number))];
        song.Rename(number => $"outside-tilt-{number}");
        using SilentDevice device = new(new DeviceSettings(SampleRate, frames));
        using LivePlayer player = new(device, new ProcessorCatalogue(BuiltInProcessors.Makers.Concat(makers)));
        player.Show(song.Song, song.Folder);
        player.Play();
        Stopwatch clock = Stopwatch.StartNew();
        PlayerState state = player.Look();
        long before = state.Device.Underruns;
        TimeSpan used = Process.GetCurrentProcess().TotalProcessorTime;
        while (clock.Elapsed.TotalSeconds < seconds)
        {
            foreach (string trouble in player.Update())
            {
                Console.WriteLine($"{clock.Elapsed.TotalSeconds:0.0} s: {trouble}");
            }

            Thread.Sleep(40);
        }

        state = player.Look();
        double share = (Process.GetCurrentProcess().TotalProcessorTime - used).TotalSeconds / seconds;
        Console.WriteLine(
            $"{processes} processes, {frames} frames, {seconds} s: {state.Device.Underruns - before} underruns of the device in {state.Device.Calls} calls, {state.Outside.Sum(use => use.Faults)} lapses, {state.Outside.Sum(use => use.FramesLost)} frames late; load median {state.Device.ShareAt(0.5) * 100:0.0} %, worst {state.Device.WorstShare * 100:0.0} %; the program itself {share * 100:0} % of a core");
    }

    private static void Hang(int rounds)
    {
        for (int round = 0; round < rounds; round++)
        {
            using BenchSong song = new(["hostile-hangs", null], 10);
            using ListenedDevice device = new(new SilentDevice(new DeviceSettings(SampleRate, 256)));
            using LivePlayer player = new(device, new ProcessorCatalogue([.. BuiltInProcessors.Makers, Maker("Hostile", "hostile-hangs")]));
            player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
            player.Show(song.Song, song.Folder);
            player.Play();
            string told = string.Empty;
            Stopwatch clock = Stopwatch.StartNew();
            while (clock.Elapsed.TotalSeconds < 3)
            {
                told = player.Update() is [var first, ..] ? first : told;
                Thread.Sleep(20);
            }

            Console.WriteLine($"{told}: {1000.0 * device.LongestSilence / SampleRate:0} ms of silence at the device, 256 frames");
        }
    }

    private static void Replace(int rounds)
    {
        string root = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
        HostingPlaces places = new(Path.Combine(root, "processors"), Path.Combine(root, "settings", "trusted.json"));
        Directory.CreateDirectory(places.Folder);
        string file = Path.Combine(places.Folder, "Scaled.dll");
        byte[] built = File.ReadAllBytes(Built("Scaled"));
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
            heard.Wait(factor * Level);
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

    private static ProcessorMaker Renamed(ProcessorMaker maker, int number) =>
        new(maker.Description with { Id = $"{maker.Description.Id}-{number}" }, maker.Create) { RunsApart = true };

    private static Processor Prepared(ProcessorMaker maker, ProcessingFormat format)
    {
        Processor processor = maker.Create();
        processor.Prepare(format);
        return processor;
    }

    private static ProcessorMaker Maker(string assembly, string id) =>
        OutsideLoader.Load(AssemblyExaminer.Examine(Built(assembly))).Single(maker => maker.Description.Id == id);

    private static IReadOnlyList<ProcessorMaker> MakersApart(string assembly)
    {
        AssemblyFacts facts = AssemblyExaminer.Examine(Built(assembly));
        return new IsolatedAssembly(facts).Makers(IsolatedAssembly.Describe(facts));
    }

    private static string Built(string name)
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "LiveStems.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return Path.Combine(folder!, "tests", "Outside", name, "bin", "Release", "net10.0", name + ".dll");
    }

    private static float[] Noise(int frames)
    {
        Random random = new(frames);
        return [.. Enumerable.Range(0, frames).Select(_ => 0.2f * (random.NextSingle() - 0.5f))];
    }

    private static double MedianNanoseconds(int rounds, Action action)
    {
        double[] times = Times(rounds, TimeSpan.Zero, action);
        return times[times.Length / 2] * 1e9;
    }

    private static double[] Times(int rounds, TimeSpan period, Action action)
    {
        double[] times = new double[rounds];
        long next = Stopwatch.GetTimestamp();
        for (int i = -rounds / 10; i < rounds; i++)
        {
            // Who was held up starts afresh: two blocks at once are no period.
            next = Math.Max(next + (long)(period.TotalSeconds * Stopwatch.Frequency), Stopwatch.GetTimestamp());
            while (period > TimeSpan.Zero && Stopwatch.GetTimestamp() < next)
            {
                Thread.SpinWait(10);
            }

            long start = Stopwatch.GetTimestamp();
            action();
            times[Math.Max(0, i)] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        }

        Array.Sort(times);
        return times;
    }

    private static void Report(string what, int frames, double[] times) => Console.WriteLine(
        $"own process, {frames} frames, {what}: median {times[times.Length / 2] * 1e6:0.0} µs, 99 % within {times[times.Length * 99 / 100] * 1e6:0.0}, 99.9 % within {times[times.Length * 999 / 1000] * 1e6:0.0}, worst {times[^1] * 1e6:0.0}");

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
                        if (Math.Abs(peak - Volatile.Read(ref heard.wanted)) < 0.02f * Level)
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

    // The longest silence between two sounds, as the device gets it.
    private sealed class ListenedDevice(SilentDevice device) : IAudioDevice, IAudioRenderer
    {
        private IAudioRenderer? source;
        private int silence;
        private bool hasSounded;

        public string Name => device.Name;

        public int SampleRate => device.SampleRate;

        public int BufferFrames => device.BufferFrames;

        public double LatencySeconds => device.LatencySeconds;

        public bool IsAlive => device.IsAlive;

        public AudioStatistics Statistics => device.Statistics;

        public int LongestSilence { get; private set; }

        public void Start(IAudioRenderer renderer)
        {
            source = renderer;
            device.Start(this);
        }

        public void Stop() => device.Stop();

        public void Dispose() => device.Dispose();

        public void Render(Span<float> left, Span<float> right)
        {
            source!.Render(left, right);
            foreach (float sample in left)
            {
                // A tone is at most a few frames near zero.
                bool isSilent = Math.Abs(sample) < 1e-6f;
                if (!isSilent && hasSounded)
                {
                    LongestSilence = Math.Max(LongestSilence, silence);
                }

                silence = isSilent ? silence + 1 : 0;
                hasSounded |= !isSilent;
            }
        }
    }

    private sealed class BenchSong : IDisposable
    {
        public BenchSong(IEnumerable<string?> processors, int seconds)
        {
            Folder = Directory.CreateTempSubdirectory("livestems-bench-").FullName;
            using (WavWriter writer = new(Path.Combine(Folder, "stem.wav"), new WavFormat(SampleRate, 24)))
            {
                float[] tone = [.. Enumerable.Range(0, SampleRate).Select(i => Level * MathF.Sin(2 * MathF.PI * 250 * i / SampleRate))];
                for (int second = 0; second < seconds; second++)
                {
                    writer.Write(tone, tone);
                }

                writer.Complete();
            }

            Song = new Song("Load", null, null, null, [.. processors.Select(Stem)], Chain.Empty, []);
        }

        public string Folder { get; }

        public Song Song { get; private set; }

        public void Rename(Func<int, string> name) => Song = Song with
        {
            Stems = [.. Song.Stems.Select((stem, number) => stem with { Chain = new Chain(false, [stem.Chain.Slots[0] with { Processor = name(number) }]) })],
        };

        public void Dispose() => Directory.Delete(Folder, recursive: true);

        private static Stem Stem(string? processor, int number) => new(
            $"Stem {number}", "stem.wav", string.Empty, StemRole.Other, Placement.AsDelivered,
            processor is null ? Chain.Empty : new Chain(false, [new ChainSlot(processor, processor, 1, false, 100, StereoScope.Stereo, null, ImmutableSortedDictionary<string, double>.Empty, string.Empty)]), [], []);
    }
}
