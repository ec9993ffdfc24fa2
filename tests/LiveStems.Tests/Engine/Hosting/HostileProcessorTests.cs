using LiveStems.Engine.Hosting;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>What a bad processor on one stem does to the song: nothing, but that the stem goes on without it.</summary>
public sealed class HostileProcessorTests : IDisposable
{
    private const int Frames = 24_000;

    private readonly TestSong song = new();

    public void Dispose() => song.Dispose();

    [Theory]
    [InlineData("hostile-throws", "b: hostile-throws has failed (it threw an exception) and is passed by")]
    [InlineData("hostile-nan", "b: hostile-nan has failed (it delivered what is no number) and is passed by")]
    [InlineData("hostile-loud", "b: hostile-loud was louder than +24 dBFS and is passed by")]
    [InlineData("hostile-asked", "b: hostile-asked has failed (it threw an exception) and is passed by")]
    public void StemGoesOnWithoutItAndTheUserIsTold(string id, string told)
    {
        float[] tone = TestSignals.Sine(Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id)) });
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, Catalogue(id), options);
        Assert.Empty(plan.Failures());
        TestSong.Recording recording = new();
        OfflineRenderer.Render(plan, recording, new RenderOptions(1, 512), null, CancellationToken.None);
        Assert.Equal([told], plan.Failures());

        // Faded over from what it did last; then the stem itself.
        Assert.Equal(tone[12_000..], recording.Left.Skip(12_000).Take(12_000).ToArray());
        Assert.All(recording.Left, sample => Assert.InRange(sample, -0.2f, 0.2f));
    }

    [Fact]
    public void OneThatWritesBeyondItsBlockIsPassedByAndNamed()
    {
        float[] tone = TestSignals.Sine(2 * Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("deadly-length")) });
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, OutsideFiles.Catalogue(OutsideFiles.Maker("Deadly", "deadly-length")), options);
        TestSong.Recording recording = new();
        OfflineRenderer.Render(plan, recording, new RenderOptions(1, 512), null, CancellationToken.None);
        Assert.Equal(["b: deadly-length has failed (it wrote outside its block) and is passed by"], plan.Failures());
        Assert.Equal(tone[30_000..], recording.Left.Skip(30_000).Take(2 * Frames - 30_000).ToArray());
        OutsideUse use = Assert.Single(plan.OutsideUses());
        Assert.Equal(("b", "deadly-length", 1L, true), (use.Place, use.Processor, use.Faults, use.FramesLost > 10_000));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void OneThatDeclaresMoreLatencyThanCanBeCompensatedIsPassedByAndTold(bool isApart)
    {
        float[] tone = TestSignals.Sine(Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("hostile-late")) });
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue([.. isApart ? OutsideFiles.MakersApart("Hostile") : OutsideFiles.Makers("Hostile")]);
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, catalogue, options);
        Assert.Equal(
            ["b: the processor 'hostile-late' cannot be prepared (declares a latency of 2147483647 frames; from 0 to 10 s can be compensated); the sound passes it by, its settings stay"],
            plan.Remarks);
        Assert.Equal(tone, song.Render(512, catalogue: catalogue).Left[..Frames]);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void NobodyIsAskedTwiceForItsLatency(bool isApart)
    {
        float[] tone = TestSignals.Sine(Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("endless-asked")) });
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue([.. isApart ? OutsideFiles.MakersApart("Endless") : OutsideFiles.Makers("Endless")]);
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, catalogue, options);
        Assert.Empty(plan.Remarks);

        // What comes out of a processor below −300 dBFS is set to zero.
        Assert.Equal(tone, song.Render(512, catalogue: catalogue).Left[..Frames], (one, other) => MathF.Abs(one - other) < 1e-15f);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void OneThatHangsInItsPreparationIsPassedByAndIsNotTriedAgain(bool isApart)
    {
        float[] tone = TestSignals.Sine(Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("endless-prepare"), TestSong.Slot("endless-prepare") with { Id = "again" }) });
        ProcessorCatalogue catalogue = OutsideFiles.Catalogue(isApart ? OutsideFiles.MakerApart("Endless", "endless-prepare") : OutsideFiles.Maker("Endless", "endless-prepare"));
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, catalogue, options);
        Assert.Equal(["b: the processor 'endless-prepare' cannot be prepared (it does not come to an end when it is prepared); the sound passes it by, its settings stay"], plan.Remarks);
        Assert.Throws<HostingException>(() => OutsidePreparation.Run<int>(catalogue, TestSong.Slot("endless-prepare"), () => throw new InvalidOperationException("tried again")));
        Assert.Equal(tone, song.Render(512, catalogue: catalogue).Left[..Frames]);
    }

    [Theory]
    [InlineData("endless-reset")]
    [InlineData("endless-later")]
    public void OneThatHangsInARenderEndsItWithOneLine(string id)
    {
        float[] tone = TestSignals.Sine(2 * Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id)) });
        HostingException fault = Assert.Throws<HostingException>(() => song.Render(
            512, catalogue: OutsideFiles.Catalogue(OutsideFiles.Maker("Endless", id)), options: new PlanOptions(512, 16_384) { Patience = TimeSpan.FromSeconds(1) }));
        Assert.Equal($"{id} does not come to an end; nothing was rendered: bypass it, or 'livestems processors --refuse {id}', and begin again", fault.Message);
    }

    [Fact]
    public void ProcessorThatCannotBePreparedIsPassedByAndTold()
    {
        float[] tone = TestSignals.Sine(Frames, 440, TestSong.SampleRate, 0.1);
        song.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("unprepared")) });
        ProcessorCatalogue catalogue = new([() => new Unprepared()]);
        PlanOptions options = new(512, 16_384);
        using SongSources sources = SongSources.Open(song.Song, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(song.Song, sources, catalogue, options);
        Assert.Equal(["b: the processor 'unprepared' cannot be prepared (no room); the sound passes it by, its settings stay"], plan.Remarks);
        (float[] left, _) = song.Render(512, catalogue: catalogue);
        Assert.Equal(tone, left[..Frames]);
    }

    private static ProcessorCatalogue Catalogue(string id) => new([.. BuiltInProcessors.Makers, OutsideFiles.Maker("Hostile", id)]);

    private sealed class Unprepared()
        : LiveStems.Processing.Contract.Processor(new LiveStems.Processing.Contract.ProcessorDescription("unprepared", "x", 1, "For tests.", [], false))
    {
        protected override void OnPrepare() => throw new InvalidOperationException("no room");

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in LiveStems.Processing.Contract.StereoBlock segment)
        {
        }
    }
}
