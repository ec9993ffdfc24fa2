using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Analysis.Probe;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.Live;
using LiveStems.Engine.Offline;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Engine.Live;
using LiveStems.Tests.Nets;
using LiveStems.Tests.Signals;
using LiveStems.View.Desk;
using Microsoft.Win32.SafeHandles;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>Processors in a process of their own: the same sound, and a crash that is nothing but a fade.</summary>
public sealed class IsolatedProcessorTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const float Level = 0.05f;

    private readonly PlayedSong played = new(256);

    public void Dispose() => played.Dispose();

    [Theory]
    [InlineData("Tilt", "outside-tilt", "tiltDb", 6)]
    [InlineData("HoldBack", "outside-hold-back", "lookAheadMs", 7)]
    public void RenderIsTheSameBitsAsInsideTheProgram(string assembly, string id, string parameter, double value)
    {
        using TestSong song = new();
        float[] noise = Noise.White(40_000, 3, 0.2f);
        float[] other = Noise.White(40_000, 4, 0.2f);
        bool hasKey = id == "outside-hold-back";
        song.AddStem("a", noise, other, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id, (parameter, value)) with { KeyStem = hasKey ? "b" : null }, TestSong.Slot("compressor")) });
        song.AddStem("b", other, noise, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id) with { MixPercent = 40 }) });
        (float[] Left, float[] Right) inside = song.Render(512, catalogue: OutsideFiles.Catalogue(OutsideFiles.Maker(assembly, id)));
        ProcessorCatalogue apart = OutsideFiles.Catalogue(OutsideFiles.MakerApart(assembly, id));
        (float[] Left, float[] Right) outside = song.Render(512, catalogue: apart);
        SameBits.Assert(inside.Left, outside.Left, id);
        SameBits.Assert(inside.Right, outside.Right, id);
        (float[] Left, float[] Right) threaded = song.Render(2048, threads: 2, catalogue: apart);
        SameBits.Assert(inside.Left, threaded.Left, id);
    }

    [Fact]
    public void ValuesThatMoveAndResetsArriveAtTheFrameTheyBelongTo()
    {
        Processor inside = OutsideFiles.Maker("Tilt", "outside-tilt").Create();
        using IsolatedProcessor apart = (IsolatedProcessor)OutsideFiles.MakerApart("Tilt", "outside-tilt").Create();
        ProcessingFormat format = new(SampleRate, 300);
        inside.Prepare(format);
        apart.Prepare(format);
        float[] noise = Noise.White(300 * 40, 8, 0.3f);
        for (int block = 0; block < 40; block++)
        {
            foreach (Processor each in new[] { inside, apart })
            {
                if (block % 7 == 3)
                {
                    each.SetParameter(0, block - 12);
                    each.SetParameter(1, 200 + 20 * block);
                }

                if (block == 25)
                {
                    each.Reset();
                }
            }

            float[] one = noise[(block * 300)..((block + 1) * 300)];
            float[] two = [.. one];
            inside.Process(new StereoBlock(one, new float[300]));
            apart.Process(new StereoBlock(two, new float[300]));
            Assert.Equal(one, two);
        }
    }

    [Fact]
    public void SettingsOutsideTheRangeAndUnknownLatencyAreToldAsInside()
    {
        using IsolatedProcessor apart = (IsolatedProcessor)OutsideFiles.MakerApart("HoldBack", "outside-hold-back").Create();
        apart.SetParameter(apart.Description.IndexOf("lookAheadMs"), 10);
        apart.Prepare(new ProcessingFormat(SampleRate, 256));
        Assert.Equal(480, apart.LatencyFrames);
        Assert.True(apart.Description.Parameters[3].IsStructural);
        Assert.True(apart.Description.ListensToKey);
    }

    [Fact]
    public void KilledProcessIsAFadeAMessageAndAReturn()
    {
        Start("Scaled", "outside-scaled");
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 1.375f * Level) < 1e-3f));
        Assert.Empty(Told());
        using (Process victim = Process.GetProcessById(Apart().ProcessId!.Value))
        {
            victim.Kill();
        }

        Assert.True(RunUntil(() => Told().Length > 0));
        Assert.Equal("b: the process of outside-scaled has ended (killed); the sound goes on without it, it is started anew", Told()[0]);
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 2 * Level) < 1e-3f));
        Assert.True(RunUntil(() => Told().Length > 1));
        Assert.Equal("b: outside-scaled is back", Told()[1]);
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 1.375f * Level) < 1e-3f));
        AssertNoStep();
        Assert.True(Assert.Single(played.Player.Outside).FramesLost > 0);
    }

    [Theory]
    [InlineData("Deadly", "deadly-overflow", "stack overflow")]
    [InlineData("Deadly", "deadly-access", "access violation")]
    [InlineData("Deadly", "deadly-thread-throws", "System.InvalidOperationException: the anchor drags")]
    [InlineData("Endless", "endless-later", "it did not come to an end")]
    public void WhateverEndsTheProcessIsNamedAndTheMusicGoesOn(string assembly, string id, string cause)
    {
        Start(assembly, id);
        Assert.True(RunUntil(() => Told().Length > 0));
        Assert.Equal($"b: the process of {id} has ended ({cause}); the sound goes on without it, it is started anew", Told()[0]);
        Run(TimeSpan.FromSeconds(0.3));
        Assert.Equal(2 * Level, Loudest(), 1e-3f);
        AssertNoStep();
    }

    [Fact]
    public void ProcessThatEndsInARenderEndsTheRenderWithOneLine()
    {
        using TestSong song = new();
        float[] tone = TestSignals.Sine(48_000, 440, SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("deadly-overflow")) });
        HostingException fault = Assert.Throws<HostingException>(() => song.Render(512, threads: 2, catalogue: OutsideFiles.Catalogue(OutsideFiles.MakerApart("Deadly", "deadly-overflow"))));
        Assert.Equal("deadly-overflow: its process has ended (stack overflow); without it the sound would be another: take it out, or refuse it, and begin again", fault.Message);
    }

    [Fact]
    public void OneThatHangsInItsPreparationThereIsToldAndPassedBy()
    {
        Start("Endless", "endless-prepare");
        Assert.Contains(played.Player.Remarks, remark => remark.Contains("'endless-prepare' cannot be prepared (it does not come to an end when it is prepared)", StringComparison.Ordinal));
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 2 * Level) < 1e-3f));
    }

    [Fact]
    public void OneWhoseFileHasChangedIsNotStartedAnewAndThatIsTold()
    {
        using OutsideFiles files = new();
        AssemblyFacts facts = AssemblyExaminer.Examine(files.Put("Scaled"));
        Start("Scaled", "outside-scaled", new IsolatedAssembly(facts).Makers(IsolatedAssembly.Describe(facts)));
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 1.375f * Level) < 1e-3f));
        files.Put("Scaled", change: OutsideFiles.ScaledBy(0.75f));
        using (Process victim = Process.GetProcessById(Apart().ProcessId!.Value))
        {
            victim.Kill();
        }

        Assert.True(RunUntil(() => Told().Length > 1));
        Assert.Equal("b: the process of outside-scaled cannot be started anew (Scaled.dll cannot be loaded: Scaled.dll has changed since it was looked at; try again); the sound goes on without it", Told()[1]);
        Run(TimeSpan.FromSeconds(0.3));
        Assert.Equal(2, Told().Length);
        Assert.Equal(2 * Level, Loudest(), 1e-3f);
        AssertNoStep();
    }

    [Fact]
    public void CountersOfTheProcessBeforeAreNoProofThatTheNextOneHangs()
    {
        using RunnerProcess runner = RunnerProcess.Start(AssemblyExaminer.Examine(OutsideFiles.Built("Scaled")), TimeSpan.FromSeconds(30));
        using RemoteLine line = new("outside-scaled", new ProcessingFormat(SampleRate, 256), [], hasKey: false, isLive: true);
        line.Open(runner, 1, TimeSpan.FromSeconds(30));
        runner.Kill();
        line.Memory.Written = 256;
        Assert.False(IsStuck());

        // The number of the first process that opened the line.
        line.Memory.Filling = 1;
        Assert.True(IsStuck());

        bool IsStuck()
        {
            line.IsStuck(TimeSpan.Zero);
            Thread.Sleep(10);
            return line.IsStuck(TimeSpan.Zero);
        }
    }

    [Fact]
    public void EndOfAProcessIsNoLossToThoseThatTheNextOneServes()
    {
        (IsolatedProcessor one, IsolatedProcessor two) = TwoWithLongLastWords();
        using (one)
        using (two)
        {
            int first = one.ProcessId!.Value;
            using (HeldPipe(first))
            {
                Kill(first);
                two.Prepare(new ProcessingFormat(SampleRate, 256));
            }

            Assert.True(SpinWait.SpinUntil(() => one.Deaths.Times > 0, TimeSpan.FromMinutes(1)));
            Assert.Equal((1, 0), (one.Deaths.Times, two.Deaths.Times));
            float[] left = [.. Enumerable.Repeat(0.25f, 256)];
            two.Process(new StereoBlock(left, new float[256]));
            Assert.Equal(0.25f * 0.375f, left[^1], 1e-6f);
        }
    }

    [Fact]
    public void EndOfTheNextProcessIsNoLossToThoseThatTheFirstOneServed()
    {
        (IsolatedProcessor one, IsolatedProcessor two) = TwoWithLongLastWords();
        using (one)
        using (two)
        {
            int first = one.ProcessId!.Value;
            using (HeldPipe(first))
            {
                Kill(first);
                two.Prepare(new ProcessingFormat(SampleRate, 256));
                Kill(two.ProcessId!.Value);
                Assert.True(SpinWait.SpinUntil(() => two.Deaths.Times > 0, TimeSpan.FromMinutes(1)));
                Assert.Equal(1, two.Deaths.Times);

                // Elsewhere nobody holds the pipe, and the end of the first one is known by now.
                Assert.InRange(one.Deaths.Times, 0, OperatingSystem.IsLinux() ? 0 : 1);
            }

            Assert.True(SpinWait.SpinUntil(() => one.Deaths.Times > 0, TimeSpan.FromMinutes(1)));
            Assert.Equal((1, 1), (one.Deaths.Times, two.Deaths.Times));
        }
    }

    [Fact]
    public async Task WhoLetsGoDoesNotWaitForOneThatIsBeingPrepared()
    {
        IReadOnlyList<ProcessorMaker> makers = OutsideFiles.MakersApart("Endless");
        IsolatedProcessor one = (IsolatedProcessor)makers.Single(maker => maker.Description.Id == "endless-later").Create();
        IsolatedProcessor endless = (IsolatedProcessor)makers.Single(maker => maker.Description.Id == "endless-prepare").Create();
        ProcessingFormat format = new(SampleRate, 256);
        one.Prepare(format);
        Task preparing = Task.Run(() => endless.Prepare(format), TestContext.Current.CancellationToken);
        Thread.Sleep(100);
        one.Dispose();
        Assert.False(preparing.IsCompleted);
        await Assert.ThrowsAsync<HostingException>(() => preparing);
        endless.Dispose();
    }

    [Fact]
    public void ProcessEndsWithItsOrdersThoughCodeOfOthersLeavesAThreadBehind()
    {
        ProcessingFormat format = new(SampleRate, 256);
        using Process child = Process.Start(RunnerProgram.StartInfo())!;
        Say(ProcessorRunner.LoadOrder(AssemblyExaminer.Examine(OutsideFiles.Built("Endless"))), "ready\t");
        string path = LinePlaces.Next();
        using (LineFile.Create(path, 1024, 2))
        {
            Say($"open\t1\t{path}\t1\tendless-thread\t{format.SampleRate}\t{format.MaximumFrames}", "opened 1\t0");
        }

        child.StandardInput.Close();
        bool hasEnded = child.WaitForExit(TimeSpan.FromMinutes(1));
        if (!hasEnded)
        {
            child.Kill();
        }

        Assert.True(hasEnded);
        Assert.Equal(0, child.ExitCode);
        Assert.False(File.Exists(path));

        void Say(string order, string answer)
        {
            child.StandardInput.Write(order + "\n");
            child.StandardInput.Flush();
            Assert.StartsWith(answer, child.StandardOutput.ReadLine());
        }
    }

    [Fact]
    public void SongAsksForAProcessOfItsOwnWhileItPlays()
    {
        AssemblyFacts facts = AssemblyExaminer.Examine(OutsideFiles.Built("Scaled"));
        Start("Scaled", "outside-scaled", new IsolatedAssembly(facts).Beside(OutsideLoader.Load(facts), []));
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 1.375f * Level) < 1e-3f));
        Assert.IsNotType<IsolatedProcessor>(Running());
        Stem b = played.Song.Stems[1];
        played.Player.Show(played.Song with { Stems = [played.Song.Stems[0], b with { Chain = TestSong.Chain(b.Chain.Slots[0] with { OwnProcess = true }) }] }, played.Files.Folder);
        Assert.True(RunUntil(() => Running() is IsolatedProcessor));
        Assert.True(RunUntil(() => MathF.Abs(Loudest() - 1.375f * Level) < 1e-3f));
        AssertNoStep();
    }

    [Fact]
    public void AnotherBuildOfItIsAnotherSoundThoughItsVersionIsTheSame()
    {
        ProcessorMaker maker = OutsideFiles.MakerApart("Scaled", "outside-scaled");
        Chain[] chains = [TestSong.Chain(TestSong.Slot("outside-scaled"))];
        string here = SettingsDigest.OutsideOf(chains, new ProcessorCatalogue([maker]));
        Assert.Equal(here, SettingsDigest.OutsideOf(chains, new ProcessorCatalogue([OutsideFiles.Maker("Scaled", "outside-scaled")])));
        Assert.NotEqual(here, SettingsDigest.OutsideOf(chains, new ProcessorCatalogue([maker with { Build = "another" }])));
    }

    [Fact]
    public void NothingStaysBehind()
    {
        string[] before = Lines();
        Start("Scaled", "outside-scaled");
        Assert.NotEmpty(Lines().Except(before));
        played.Player.Dispose();
        Assert.Empty(Lines().Except(before));
    }

    [Fact]
    public void MeasuringLetsEveryLineGo()
    {
        string[] before = Lines();
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue(OutsideFiles.MakerApart("Scaled", "outside-scaled"));
        MeasuredProcessor found = MeasuredProcessor.Measure(TestSong.Slot("outside-scaled"), SampleRate, catalogue, CancellationToken.None);

        // 20 lg 0.375.
        Assert.Equal(-28.52, found.OutputDbfs(-20), 0.01);
        Assert.Empty(Lines().Except(before));
        using (ProbedProcessor probed = new(catalogue.Create("outside-scaled")!))
        {
            Assert.Equal(-28.52, new ProcessorProbe(probed, SampleRate).MeasureAt(-20).OutputDbfs, 0.01);
            Assert.NotEmpty(Lines().Except(before));
        }

        Assert.Empty(Lines().Except(before));
    }

    [Fact]
    public void WhatIsLeftOutOfARenderHoldsNoLine()
    {
        string[] before = Lines();
        Chain chain = TestSong.Chain(TestSong.Slot("outside-scaled") with { Bypassed = true });
        using ChainRunner runner = new(chain, OutsideFiles.Catalogue(OutsideFiles.MakerApart("Scaled", "outside-scaled")), new ProcessingFormat(SampleRate, 256));
        Assert.Empty(Lines().Except(before));
        float[] left = [0.25f];
        runner.Process(left, new float[1]);
        Assert.Equal(0.25f, left[0]);
    }

    // The first of them is prepared; whoever watches over its process waits for its last words for longer than any other takes to start.
    private static (IsolatedProcessor One, IsolatedProcessor Two) TwoWithLongLastWords()
    {
        AssemblyFacts facts = AssemblyExaminer.Examine(OutsideFiles.Built("Scaled"));
        IsolatedAssembly assembly = new(facts) { LastWordsPatience = TimeSpan.FromMinutes(5) };
        ProcessorMaker maker = assembly.Makers(IsolatedAssembly.Describe(facts)).Single();
        IsolatedProcessor one = (IsolatedProcessor)maker.Create();
        one.Prepare(new ProcessingFormat(SampleRate, 256));
        return (one, (IsolatedProcessor)maker.Create());
    }

    // As long as anybody holds the other end of the pipe, last words may come.
    private static SafeFileHandle? HeldPipe(int process) =>
        OperatingSystem.IsLinux() ? File.OpenHandle($"/proc/{process}/fd/1", FileMode.Open, FileAccess.Write, FileShare.ReadWrite) : null;

    private static void Kill(int process)
    {
        using Process victim = Process.GetProcessById(process);
        victim.Kill();
        victim.WaitForExit();
    }

    private static string[] Lines() => OperatingSystem.IsLinux() ? Directory.GetFiles("/dev/shm", $"livestems-{Environment.ProcessId}-*") : Directory.GetFiles(Path.GetTempPath(), $"livestems-{Environment.ProcessId}-*.line");

    private void Start(string assembly, string id, IReadOnlyList<ProcessorMaker>? makers = null)
    {
        float[] tone = TestSignals.Sine(60 * SampleRate, 250, SampleRate, Level);
        played.Files.AddStem("a", tone, tone);
        played.Files.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id)) });
        played.Start(OutsideFiles.Catalogue([.. makers ?? [OutsideFiles.MakerApart(assembly, id)]]), new HandClock());
        played.Forget();
        played.Player.Play();
        Run(TimeSpan.FromSeconds(0.1));
    }

    // Not what only tells how busy the machine is.
    private string[] Told() => [.. played.Troubles.Where(line => !line.Contains("did not come back in time", StringComparison.Ordinal))];

    private IsolatedProcessor Apart() => (IsolatedProcessor)Running()!;

    private Processor? Running() => played.Player.Running(TapPlace.OfStem(1) with { Slot = "outside-scaled" });

    // No jump beyond that of both tones at their steepest and of a cosine fade over 10 ms between the two levels.
    private void AssertNoStep()
    {
        float steepest = 2 * Level * 2 * MathF.PI * 250 / SampleRate * 1.3f;
        for (int i = 1; i < played.Device.Left.Count; i++)
        {
            Assert.InRange(MathF.Abs(played.Device.Left[i] - played.Device.Left[i - 1]), 0, steepest);
        }
    }

    // As a device by day: no faster than music.
    private void Run(TimeSpan time)
    {
        long start = Stopwatch.GetTimestamp();
        while (Stopwatch.GetElapsedTime(start) < time)
        {
            Thread.Sleep(5);
            played.Device.Run(256);
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

    private float Loudest() => played.LoudestOfLast(0.05);
}
