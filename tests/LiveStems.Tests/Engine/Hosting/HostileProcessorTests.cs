using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Nets;
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
    [InlineData("hostile-throws")]
    [InlineData("hostile-nan")]
    [InlineData("hostile-loud")]
    [InlineData("hostile-asked")]
    [InlineData("hostile-allocates")]
    [InlineData("hostile-blocks")]
    [InlineData("hostile-latency")]
    public void OtherStemsAreTheSameBits(string id)
    {
        // The bad one works on a stem of silence: what is heard is the other stem alone.
        float[] noise = Noise.White(Frames, 5, 0.1f);
        song.AddStem("a", noise, noise, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -30))) });
        song.AddStem("b", new float[Frames], null, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id)) });
        ProcessorCatalogue catalogue = Catalogue(id);
        (float[] Left, float[] Right) with = song.Render(512, catalogue: catalogue);
        song.Song = song.Song with { Stems = [song.Song.Stems[0], song.Song.Stems[1] with { Chain = LiveStems.Albums.Model.Chain.Empty }] };
        (float[] Left, float[] Right) without = song.Render(512, catalogue: catalogue);
        SameBits.Assert(without.Left[..Frames], with.Left[..Frames], id);
        SameBits.Assert(without.Right[..Frames], with.Right[..Frames], id);
    }

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
