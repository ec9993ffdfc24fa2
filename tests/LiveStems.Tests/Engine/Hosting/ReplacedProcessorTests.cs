using System.Diagnostics;
using System.Runtime.CompilerServices;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Engine.Live;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>A build that arrives while music plays is heard, without a step, and the code before it is let go.</summary>
public sealed class ReplacedProcessorTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const float Level = 0.1f;

    private readonly OutsideFiles files = new();
    private readonly PlayedSong played = new(256);
    private ProcessorWatch? watch;

    public void Dispose()
    {
        watch?.Dispose();
        played.Dispose();
        files.Dispose();
    }

    [Fact]
    public void NewBuildOfOwnWorkIsHeardWhileMusicPlaysAndTheOldCodeIsLetGo()
    {
        string path = files.Put("Scaled");
        files.Open().DecideOwnWork(path, true);
        WeakReference old = Start();
        Assert.True(RunUntil(() => IsLevel(0.375f)));
        files.Put("Scaled", change: OutsideFiles.ScaledBy(0.75f));
        Assert.True(RunUntil(() => IsLevel(0.75f)));
        Assert.Equal(["Scaled.dll has been replaced and is heard from now on"], news);
        Assert.Empty(played.Troubles);
        for (int i = 0; i < 40 && old.IsAlive; i++)
        {
            Run(TimeSpan.FromMilliseconds(50));
            GC.Collect();
            GC.WaitForPendingFinalizers();
        }

        Assert.False(old.IsAlive);
        AssertNoStep();
    }

    [Fact]
    public void ChangedFileThatIsNoOwnWorkPlaysOnAsItWasUntilTheUserSaysYes()
    {
        files.Put("Scaled");
        files.TrustAll();
        Start();
        Assert.True(RunUntil(() => IsLevel(0.375f)));
        files.Put("Scaled", change: OutsideFiles.ScaledBy(0.75f));
        Assert.True(RunUntil(() => news.Count > 0));
        Assert.Equal(["Scaled.dll has changed; it plays on as it was until you say yes to the new one: livestems processors --trust Scaled.dll"], news);
        Run(TimeSpan.FromSeconds(0.3));
        Assert.True(IsLevel(0.375f));
        files.TrustAll();
        Assert.True(RunUntil(() => IsLevel(0.75f)));
    }

    [Fact]
    public void HalfABuildPlaysOnAsItWas()
    {
        string path = files.Put("Scaled");
        files.Open().DecideOwnWork(path, true);
        Start();
        Assert.True(RunUntil(() => IsLevel(0.375f)));
        files.Put("Scaled", change: bytes => bytes[..2000]);
        Assert.True(RunUntil(() => news.Count > 0));
        Assert.Equal(["Scaled.dll: is no .NET assembly, or a damaged one; copy or build it anew; it plays on as it was"], news);
        Run(TimeSpan.FromSeconds(0.3));
        Assert.True(IsLevel(0.375f));
    }

    [Fact]
    public void FileThatIsRenamedIsHeardUnderItsNewNameAndTheMusicGoesOn()
    {
        string path = files.Put("Scaled");
        files.TrustAll();
        Start();
        Assert.True(RunUntil(() => IsLevel(0.375f)));
        File.Move(path, Path.Combine(files.Places.Folder, "Scaled2.dll"));
        Assert.True(RunUntil(() => news.Count > 0));
        Assert.Equal(["Scaled2.dll is here and is heard from now on"], news);
        Run(TimeSpan.FromSeconds(0.3));
        Assert.True(IsLevel(0.375f));
        AssertNoStep();

        // And the folder is looked at as before.
        files.Put("Tilt");
        Assert.True(RunUntil(() => news.Count > 1));
        Assert.Equal("Tilt.dll is new; it runs when you say yes: livestems processors --trust Tilt.dll", news[1]);
    }

    [Fact]
    public void WhatCameBetweenTheOpeningOfTheFolderAndTheWatchIsSeenToo()
    {
        ProcessorHost host = files.Open();
        files.Put("Tilt");
        using ProcessorWatch looking = new(files.Places, host);
        Assert.Equal(["Tilt.dll is new; it runs when you say yes: livestems processors --trust Tilt.dll"], Next(looking).News);
    }

    [Fact]
    public void RefusedProcessorThatComesBackIsTold()
    {
        files.Put("Hostile");
        ProcessorHost host = files.Open();
        TrustEntry decision = OutsideFiles.Decision(host.Assemblies[0].Facts, true);
        host.Decide(decision with { Refused = ["hostile-nan"] });
        using ProcessorWatch looking = new(files.Places, files.Open());
        host.Decide(decision with { Refused = ["hostile-loud", "hostile-blocks"] });
        Assert.Equal(["Hostile.dll goes on without hostile-blocks, hostile-loud, which are refused; hostile-nan of Hostile.dll runs from now on"], [.. Next(looking).News.Select(Sorted)]);
        host.Decide(decision with { Refused = ["hostile-loud"] });
        Assert.Equal(["hostile-blocks of Hostile.dll runs from now on"], Next(looking).News);

        // In what order a file tells its processors is its own.
        static string Sorted(string told) => told.Replace("hostile-loud, hostile-blocks", "hostile-blocks, hostile-loud", StringComparison.Ordinal);
    }

    [Fact]
    public void WhateverGoesWrongInTheWatchIsToldAndWhatPlaysPlaysOn()
    {
        ProcessorHost host = files.Open();
        int looks = 0;
        using ProcessorWatch looking = new(files.Places, host, before => ++looks == 1 ? throw new ArgumentException("the lamp is out") : ProcessorHost.Open(files.Places, before));
        files.Put("Tilt");
        (ProcessorHost Host, IReadOnlyList<string> News) first = Next(looking);
        Assert.Same(host, first.Host);
        Assert.Equal([$"what has changed in {files.Places.Folder} cannot be taken up (the lamp is out); the processors stay as they were"], first.News);
        files.Put("Scaled");
        Assert.Equal(2, Next(looking).Host.Assemblies.Count);
    }

    [Fact]
    public void ReplacementThatCannotBePreparedIsToldOnceAndTheMusicGoesOnWithoutIt()
    {
        files.Put("Scaled");
        files.TrustAll();
        Start();
        Assert.True(RunUntil(() => IsLevel(0.375f)));
        ProcessorDescription broken = new("outside-scaled", "Scaled", 1, "Has no room.", [], ListensToKey: false);
        played.Player.Replace(OutsideFiles.Catalogue(new ProcessorMaker(broken, () => throw new InvalidOperationException("no\u001b room"))));
        Assert.True(RunUntil(() => IsLevel(1)));
        played.Player.Show(played.Song with { Bus = TestSong.Chain(TestSong.Slot("gain")) }, played.Files.Folder);
        Run(TimeSpan.FromSeconds(0.3));
        Assert.Equal(["b: the processor 'outside-scaled' cannot be prepared (no\ufffd room); the sound passes it by, its settings stay"], played.Troubles);
        Assert.Equal("cannot be prepared (no\ufffd room)", played.Player.PassedBy(TapPlace.OfStem(0) with { Slot = "outside-scaled" }));
        Assert.Null(played.Player.PassedBy(TapPlace.Bus with { Slot = "gain" }));
    }

    private static (ProcessorHost Host, IReadOnlyList<string> News) Next(ProcessorWatch watch)
    {
        for (int turn = 0; turn < 1000; turn++)
        {
            if (watch.TakeChange() is { } change)
            {
                return (change.Host, [.. change.News.Select(news => news.ToString())]);
            }

            Thread.Sleep(10);
        }

        throw new TimeoutException();
    }

    [Fact]
    public void UnusedOutsideProcessorsAddNoLatency()
    {
        files.Put("Scaled");
        files.TrustAll();
        float[] tone = TestSignals.Sine(SampleRate, 250, SampleRate, Level);
        played.Files.AddStem("a", tone, tone);
        played.Start(files.Open().Catalogue);
        played.Forget();
        played.Player.Play();
        played.Device.Run(SampleRate / 10);

        // A frame that is asked for is rendered in that call: with blocks ahead the first ones would still be silence.
        Assert.Contains(played.Device.Left.Take(2 * 256), sample => sample != 0);
    }

    private readonly List<string> news = [];

    [MethodImpl(MethodImplOptions.NoInlining)]
    private WeakReference Start()
    {
        ProcessorHost host = files.Open();
        float[] tone = TestSignals.Sine(60 * SampleRate, 250, SampleRate, Level);
        played.Files.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("outside-scaled")) });

        // A clock that stands still: on a machine under load nothing is taken for too slow.
        played.Start(host.Catalogue, new HandClock());
        played.Forget();
        played.Player.Play();
        watch = new ProcessorWatch(files.Places, host);
        return new WeakReference(host.Catalogue.Create("outside-scaled")!.GetType().Assembly);
    }

    // But for the silence that the player itself counts, where a machine under load did not render in time.
    private void AssertNoStep()
    {
        bool hasMissed = played.Player.FramesMissedByRendering > 0;
        float steepest = Level * 2 * MathF.PI * 250 / SampleRate * 1.3f;
        for (int i = 1; i < played.Device.Left.Count; i++)
        {
            (float before, float now) = (played.Device.Left[i - 1], played.Device.Left[i]);
            Assert.True(MathF.Abs(now - before) <= steepest || (hasMissed && (before == 0 || now == 0)), $"from {before} to {now} at {i}");
        }
    }

    private bool IsLevel(float factor) => played.Device.Left.Count > 0 && MathF.Abs(played.LoudestOfLast(0.05) - factor * Level) < 1e-3f;

    private void Run(TimeSpan time)
    {
        long start = Stopwatch.GetTimestamp();
        while (Stopwatch.GetElapsedTime(start) < time)
        {
            Thread.Sleep(5);
            played.Device.Run(256);
            if (watch?.TakeChange() is { } change)
            {
                news.AddRange(change.News.Select(each => each.ToString()));
                played.Player.Replace(change.Host.Catalogue);
            }

            played.Troubles.AddRange(played.Player.Update());
        }
    }

    private bool RunUntil(Func<bool> holds)
    {
        for (int turn = 0; turn < 200 && !holds(); turn++)
        {
            Run(TimeSpan.FromMilliseconds(50));
        }

        return holds();
    }
}
