using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Comparing;

/// <summary>One plan with two sides: each side is what its song renders to by itself, to the bit, and both are aligned.</summary>
public sealed class ComparedPlanTests : IDisposable
{
    private const int Frames = 12_000;

    private readonly TestSong song = new();

    public ComparedPlanTests()
    {
        song.AddStem("Bass", Noise.White(Frames, 1, 0.2f), Noise.White(Frames, 2, 0.2f), stem => stem with
        {
            Placement = stem.Placement with { GainDb = -2, Pan = 0.3 },
            Chain = TestSong.Chain(
                TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", 6)),
                TestSong.Slot("compressor", ("thresholdDb", -30)) with { KeyStem = "Drums" },
                TestSong.Slot("limiter", ("inputGainDb", 3))),
        });
        song.AddStem("Drums", Noise.White(Frames, 3, 0.2f), Noise.White(Frames, 4, 0.2f), stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("equaliser", ("band3.on", 1), ("band3.gainDb", -4))),
            Parallels =
            [
                TestSong.ParallelPath(false, -6, TestSong.Slot("compressor", ("thresholdDb", -40))) with { Name = "Early", IsEqualiserLinked = true },
                TestSong.ParallelPath(true, -9, TestSong.Slot("limiter", ("inputGainDb", 12))) with { Name = "Late", AlignSamples = 2.25 },
            ],
        });
        song.AddStem("Voice", Noise.White(Frames, 5, 0.2f), null);
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("equaliser", ("band1.on", 1), ("band1.gainDb", 2)), TestSong.Slot("limiter", ("inputGainDb", 6))) };
    }

    public static TheoryData<CompareScope, bool> Scopes()
    {
        TheoryData<CompareScope, bool> scopes = [];
        foreach (bool isInSong in new[] { true, false })
        {
            scopes.Add(new ProcessorScope(new ChainPlace("Bass"), "compressor"), isInSong);
            scopes.Add(new ProcessorScope(new ChainPlace("Bass"), "equaliser"), isInSong);
            scopes.Add(new ProcessorScope(new ChainPlace("Drums", "Late"), "limiter"), isInSong);
            scopes.Add(new ProcessorScope(ChainPlace.SongChain, "limiter"), isInSong);
            scopes.Add(new ChainScope(new ChainPlace("Bass")), isInSong);
            scopes.Add(new ChainScope(new ChainPlace("Drums", "Early")), isInSong);
            scopes.Add(new ChainScope(ChainPlace.SongChain), isInSong);
            scopes.Add(new StemScope("Drums"), isInSong);
            scopes.Add(new AllStemsScope(), isInSong);
            scopes.Add(new ParallelScope("Drums", "Early"), isInSong);
            scopes.Add(new ParallelScope("Drums", "Late"), isInSong);
        }

        return scopes;
    }

    public void Dispose() => song.Dispose();

    [Theory]
    [MemberData(nameof(Scopes))]
    public void BothSidesAreWhatTheirSongsRenderTo(CompareScope scope, bool isInSong)
    {
        ComparedSongs songs = new Comparison(scope, isInSong).Of(song.Song);
        (float[] inLeft, float[] outLeft) = RunBoth(songs);
        AssertIs(songs.Out, outLeft);
        AssertIs(songs.In!, inLeft);
    }

    [Fact]
    public void VersionWithOtherAlignmentPolarityAndFilesRunsBesideTheSong()
    {
        Song other = song.Song with
        {
            Stems =
            [
                song.Song.Stems[1] with { Placement = song.Song.Stems[1].Placement with { DelayFrames = 37, Polarity = Polarity.Inverted } },
                song.Song.Stems[0] with { Placement = song.Song.Stems[0].Placement with { DelayFrames = -12 } },
            ],
        };
        ComparedSongs songs = new Comparison(new VersionScope(other, "before the call"), true).Of(song.Song);
        (float[] inLeft, float[] outLeft) = RunBoth(songs);
        AssertIs(songs.Out, outLeft);
        AssertIs(other, inLeft);
    }

    [Fact]
    public void FileRunsBesideTheSongAlignedToTheSample()
    {
        float[] mix = Noise.White(Frames, 9, 0.3f);
        using TestSong rough = new();
        rough.AddStem("rough", mix, mix);
        string path = Path.Combine(rough.Folder, "rough.wav");
        ComparedSongs songs = new Comparison(new FileScope(new ComparedFile(path, 5), "rough mix"), true).Of(song.Song);
        (float[] inLeft, float[] outLeft) = RunBoth(songs);
        AssertIs(songs.Out, outLeft);
        Assert.Equal(mix[..1000], inLeft[5..1005]);
    }

    [Fact]
    public void DifferenceOfAChainThatDoesNothingLiesBelowMinus140Dbfs()
    {
        // Bells of 0 dB and a gain of 0 dB: what they round is all there is.
        song.Song = song.Song with
        {
            Stems = song.Song.Stems.SetItem(2, song.Song.Stems[2] with { Chain = TestSong.Chain(TestSong.Slot("equaliser", ("band1.on", 0), ("band2.on", 1)), TestSong.Slot("gain")) }),
        };
        (float[] inLeft, float[] outLeft) = RunBoth(new Comparison(new ChainScope(new ChainPlace("Voice")), false).Of(song.Song));
        double worst = inLeft.Zip(outLeft).Max(pair => Math.Abs((double)pair.First - pair.Second));
        Assert.True(20 * Math.Log10(worst) < -140, $"{20 * Math.Log10(worst):F1} dBFS");
    }

    [Fact]
    public void WhatBothSidesHaveInCommonIsComputedOnce()
    {
        // A processor of one stem in the whole song: the other stems are taken over whole, and of its own chain what comes
        // before it; the song chain runs for both.
        ComparedSongs songs = new Comparison(new ProcessorScope(new ChainPlace("Bass"), "compressor"), true).Of(song.Song);
        Sharing sharing = Sharing.Between(songs.In!, songs.Out);
        Assert.Equal([new StemSharing(0, false, 1), new StemSharing(1, true, 1), new StemSharing(2, true, 0)], sharing.Stems);
        Assert.False(sharing.HasSameMix);

        // A processor of the song chain: the sum and what comes before it are taken over.
        songs = new Comparison(new ProcessorScope(ChainPlace.SongChain, "limiter"), true).Of(song.Song);
        sharing = Sharing.Between(songs.In!, songs.Out);
        Assert.True(sharing.HasSameMix);
        Assert.Equal(1, sharing.BusSlots);
    }

    [Theory]
    [MemberData(nameof(Scopes))]
    public void ASecondSideRunsOnlyWhatFollowsTheDifference(CompareScope scope, bool isInSong)
    {
        ComparedSongs songs = new Comparison(scope, isInSong).Of(song.Song);
        PlanOptions options = new(64, 32_768) { IsLive = true };
        using SongSources sources = SongSources.Open(songs, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(songs, sources, BuiltInProcessors.Catalogue, options);
        PlannedSlot[] first = [.. SlotsOf(plan.Side)];
        string[] again = [.. SlotsOf(plan.InSide!).Where(slot => slot.Step is not null && !first.Contains(slot)).Select(slot => slot.Slot.Id)];
        Assert.Equal(SlotsBehind(scope, isInSong), again);
    }

    private static IEnumerable<PlannedSlot> SlotsOf(SongSide side) => side.Stems
        .SelectMany(stem => stem.Slots.Concat(stem.Parallels.SelectMany(parallel => parallel.Slots)))
        .Concat(side.BusSlots);

    // Processors of "in" behind the difference: what is compared is out, what stands before it is shared.
    private static string[] SlotsBehind(CompareScope scope, bool isInSong)
    {
        string[] stem = scope switch
        {
            ProcessorScope { Place.Stem: "Bass", SlotId: "compressor" } => isInSong ? ["limiter"] : [],
            ProcessorScope { Place.Stem: "Bass", SlotId: "equaliser" } => isInSong ? ["compressor", "limiter"] : [],

            // A linked copy of the stem's equaliser is part of the chain that is compared.
            ChainScope { Place: { Stem: "Drums", Parallel: "Early" } } => ["stem-equaliser"],
            _ => [],
        };
        string[] bus = isInSong && scope is not (ProcessorScope { Place.Stem: null } or ChainScope { Place.Stem: null }) ? ["equaliser", "limiter"] : [];
        return [.. stem, .. bus];
    }

    [Fact]
    public void NothingToCompareIsToldInOneLine()
    {
        Song bare = song.Song with { Stems = [.. song.Song.Stems.Select(stem => stem with { Chain = LiveStems.Albums.Model.Chain.Empty, Parallels = [], Placement = Placement.AsDelivered })] };
        AssertTold(bare, new ChainScope(new ChainPlace("Bass")), "the chain of Bass is empty; there is nothing to compare");
        AssertTold(bare, new AllStemsScope(), "nothing is done to any stem");
        AssertTold(bare, new StemScope("Bass"), "nothing is done to 'Bass'");
        AssertTold(bare, new StemScope("Choir"), "has no stem 'Choir'; there is Bass, Drums, Voice");
        AssertTold(bare, new ParallelScope("Bass", "Crush"), "'Bass' has no parallel; add one first");
        AssertTold(song.Song, new ProcessorScope(new ChainPlace("Bass"), "room"), "there is equaliser, compressor, limiter");
        AssertTold(song.Song, new VersionScope(song.Song, "today"), "sounds the same in version today");
        Song foreign = bare with { Title = "Else", Stems = [bare.Stems[0] with { File = "else.wav" }] };
        AssertTold(song.Song, new VersionScope(foreign, "old"), "version old comes from another album");
        Assert.Contains("has no rough mix", Assert.Throws<ComparisonException>(() => FileScope.RoughMixOf(bare)).Message, StringComparison.Ordinal);
    }

    private static void AssertTold(Song song, CompareScope scope, string words)
    {
        string message = Assert.Throws<ComparisonException>(() => new Comparison(scope, false).Of(song)).Message;
        Assert.Contains(words, message, StringComparison.Ordinal);
    }

    // Both sides, left, from the first frame of the song on.
    private (float[] In, float[] Out) RunBoth(ComparedSongs songs)
    {
        const int Block = 53;
        PlanOptions options = new(64, 32_768) { IsLive = true };
        using SongSources sources = SongSources.Open(songs, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(songs, sources, BuiltInProcessors.Catalogue, options);
        plan.Plan.Reset();
        sources.Head.OpenAtStart();
        foreach (StemPump pump in sources.Pumps)
        {
            pump.Start(RingStart.First);
            pump.FillTo(2 * Frames);
        }

        PlayingSong playing = new(plan.Plan, sources.Head, [.. sources.Pumps.Select(pump => pump.Feed)], sources.Frames);
        List<float> inLeft = [];
        List<float> outLeft = [];
        while (outLeft.Count < Frames + plan.LatencyFrames)
        {
            playing.TakeStems(Block);
            playing.Run(Block);
            inLeft.AddRange(plan.Plan.InOutput!.Left.AsSpan(0, Block));
            outLeft.AddRange(plan.Plan.Output.Left.AsSpan(0, Block));
        }

        return ([.. inLeft.Skip(plan.LatencyFrames).Take(Frames)], [.. outLeft.Skip(plan.LatencyFrames).Take(Frames)]);
    }

    private void AssertIs(Song expected, float[] left)
    {
        Song kept = song.Song;
        song.Song = expected;
        (float[] rendered, _) = song.Render(catalogue: BuiltInProcessors.Catalogue);
        song.Song = kept;
        Assert.Equal(rendered[..Frames], left);
    }
}
