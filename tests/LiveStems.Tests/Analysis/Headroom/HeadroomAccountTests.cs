using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Analysis.Headroom;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Headroom;

public sealed class HeadroomAccountTests : IDisposable
{
    private const int Frames = 6 * TestSong.SampleRate;

    private readonly TestSong song = new();
    private readonly string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");

    public HeadroomAccountTests() => Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(song.Folder, "cache"));

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        song.Dispose();
    }

    [Fact]
    public void LeftOutIsTheSongRenderedWithoutTheCorrection()
    {
        AddBand();
        HeadroomReport report = Measure();
        HeadroomRow compressor = Row(report, "drums", "compressor");

        Song without = song.Song with { Stems = song.Song.Stems.SetItem(0, Bypass(song.Song.Stems[0], "compressor")) };
        AssertSame(Loudness(song.Song), report.AllIn.IntegratedLufs);
        AssertSame(Loudness(without), compressor.LeftOut.IntegratedLufs);
        AssertSame(PeakBeforeTheLimiter(without), compressor.LeftOut.SamplePeakDbfs);
    }

    [Fact]
    public void AloneIsTheBareSongWithTheCorrection()
    {
        AddBand();
        HeadroomRow equaliser = Row(Measure(), "bass", "equaliser");
        Song only = song.Song with
        {
            Stems = [song.Song.Stems[0] with { Chain = Chain.Empty }, song.Song.Stems[1]],
            Bus = TestSong.Chain(song.Song.Bus.Slots[^1]),
        };
        AssertSame(Loudness(only), equaliser.AddedIn.IntegratedLufs);
        AssertSame(PeakBeforeTheLimiter(only), equaliser.AddedIn.SamplePeakDbfs);
    }

    [Fact]
    public void EveryFigureIsThatOfThePlainRender()
    {
        AddBand();
        ChainSlot lookingAhead = TestSong.Slot("compressor", ("thresholdDb", -30), ("ratio", 3), ("lookAhead", 2)) with { Id = "late" };
        ChainSlot halfMixed = TestSong.Slot("saturator", ("driveDb", 12)) with { MixPercent = 50 };
        Stem bass = song.Song.Stems[1];
        song.Song = song.Song with
        {
            Stems = song.Song.Stems.SetItem(1, bass with
            {
                Placement = bass.Placement with { GainDb = -2, Pan = 0.3, DelayFrames = 37, Polarity = Polarity.LeftInverted },
                Chain = TestSong.Chain(bass.Chain.Slots[0], TestSong.Slot("transient-shaper", ("attackDb", 4)), lookingAhead, TestSong.Slot("width", ("lowPercent", 20)), halfMixed),
                Parallels =
                [
                    TestSong.ParallelPath(false, -6, lookingAhead, TestSong.Slot("transient-shaper", ("sustainDb", 6))) with { IsEqualiserLinked = true, AlignSamples = -2.5 },
                    TestSong.ParallelPath(true, -9, TestSong.Slot("compressor", ("thresholdDb", -40)) with { KeyStem = "drums" }) with { Name = "Over" },
                ],
            }),
        };
        HeadroomReport report = Measure();
        Song bare = HeadroomSubjects.WithoutCorrections(song.Song);
        AssertPlain(song.Song, report.AllIn);
        AssertPlain(bare, report.AllOut);
        foreach (HeadroomRow row in report.Rows)
        {
            AssertPlain(row.Subject.TakeOut(song.Song), row.LeftOut);
            AssertPlain(row.Subject.PutIn(bare), row.AddedIn);
        }

        Assert.Equal(14, report.Rows.Count);
    }

    [Fact]
    public void TakingAwayLowsNobodyHearsBuysHeadroom()
    {
        // A strong tone at 14 Hz adds to every peak and, by the K-weighting of ITU-R BS.1770, next to nothing to loudness.
        float[] rumble = [.. Enumerable.Range(0, Frames).Select(i => 0.2f * (float)Math.Sin(2 * Math.PI * 14 * i / TestSong.SampleRate))];
        song.AddStem("voice", Bursts(5, rumble), Bursts(6, rumble), stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("equaliser", ("band1.on", 1), ("band1.shape", 4), ("band1.frequencyHz", 60), ("band1.slopeDbPerOctave", 3))),
        });
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter", ("inputGainDb", 6), ("ceilingDbtp", -1))) };
        HeadroomRow row = Row(Measure(), "voice", "equaliser");
        Assert.True(row.BoughtDb > 0.5, $"{row.BoughtDb}");
        Assert.True(row.BoughtAloneDb > 0.5, $"{row.BoughtAloneDb}");
    }

    [Fact]
    public void AGainThatOnlyTurnsTheSongDownBuysNothing()
    {
        // Driven to the same work of the limiter, the song turned down by a gain is the same song.
        song.AddStem("all", Bursts(7), Bursts(8), stem => stem with { Chain = TestSong.Chain(TestSong.Slot("gain", ("gainDb", -3))) });
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter", ("inputGainDb", 8), ("ceilingDbtp", -1))) };
        HeadroomRow row = Row(Measure(), "all", "gain");
        Assert.Equal(3, row.LeftOut.SamplePeakDbfs - Measure().AllIn.SamplePeakDbfs, 0.001);

        // Half a decibel of drive lies between two points of the curve, which is nearly straight there.
        Assert.Equal(0, row.BoughtDb, 0.02);
    }

    [Fact]
    public void AfterAChangeOnlyTheRowsOfItsStemAreMeasuredAgain()
    {
        AddBand();
        HeadroomReport before = Measure();
        Assert.All(before.Rows, row => Assert.False(row.IsFromBefore));

        Stem bass = song.Song.Stems[1];
        song.Song = song.Song with { Stems = song.Song.Stems.SetItem(1, bass with { Placement = bass.Placement with { GainDb = -4 } }) };
        HeadroomReport after = Measure();
        Assert.All(after.Rows, row => Assert.Equal(row.Subject.Stem != 1, row.IsFromBefore));
        Assert.Equal(Row(before, "drums", "compressor").LeftOut, Row(after, "drums", "compressor").LeftOut);
        AssertSame(Loudness(song.Song), after.AllIn.IntegratedLufs);

        HeadroomReport wholly = Measure(wholly: true);
        Assert.All(wholly.Rows, row => Assert.False(row.IsFromBefore));
        Assert.NotEqual(Row(before, "drums", "compressor").LeftOut, Row(wholly, "drums", "compressor").LeftOut);
    }

    [Fact]
    public void FiguresAfterAChangeAreThoseOfAnAccountFromNothing()
    {
        AddBand();
        Measure();
        Stem bass = song.Song.Stems[1];
        ChainSlot deeper = bass.Chain.Slots[0] with { Parameters = bass.Chain.Slots[0].Parameters.SetItem("band1.gainDb", -9) };
        song.Song = song.Song with { Stems = song.Song.Stems.SetItem(1, bass with { Chain = TestSong.Chain(deeper) }) };
        HeadroomReport after = Measure(wholly: true);
        Directory.Delete(Path.Combine(song.Folder, "cache"), recursive: true);
        HeadroomReport anew = Measure();

        // What is kept of a stem ends with its last audible frame, −120 dBFS.
        AssertSame(anew.AllIn.MeanReductionDb, after.AllIn.MeanReductionDb);
        Assert.Equal(anew.Rows.Count, after.Rows.Count);
        foreach ((HeadroomRow one, HeadroomRow other) in anew.Rows.Zip(after.Rows))
        {
            AssertSame(one.LeftOut.IntegratedLufs, other.LeftOut.IntegratedLufs);
            AssertSame(one.AddedIn.TruePeakDbtp, other.AddedIn.TruePeakDbtp);
            AssertSame(one.BoughtDb, other.BoughtDb);
            AssertSame(one.BoughtAloneDb, other.BoughtAloneDb);
        }
    }

    [Fact]
    public void ChangesToOneStemAfterAnotherLeaveNoTraceInTheKeptSum()
    {
        AddBand();
        Measure();
        HeadroomReport after = null!;
        foreach ((int stem, double value) in new[] { (1, -9.0), (1, -3.5), (0, -25), (1, -2), (0, -28) })
        {
            Stem changed = song.Song.Stems[stem];
            ChainSlot slot = changed.Chain.Slots[0];
            string id = stem == 0 ? "thresholdDb" : "band1.gainDb";
            ChainSlot turned = slot with { Parameters = slot.Parameters.SetItem(id, value) };
            song.Song = song.Song with { Stems = song.Song.Stems.SetItem(stem, changed with { Chain = TestSong.Chain(turned) }) };
            after = Measure();
        }

        Directory.Delete(Path.Combine(song.Folder, "cache"), recursive: true);
        HeadroomReport anew = Measure();

        // The sum is exact whatever was exchanged in it, and these stems have no tail behind their ends.
        Assert.Equal(anew.AllIn, after.AllIn);
        Assert.Equal(anew.AllOut, after.AllOut);
        foreach (HeadroomRow row in after.Rows.Where(row => !row.IsFromBefore))
        {
            HeadroomRow same = anew.Rows.Single(each => each.Subject.Words == row.Subject.Words);
            Assert.Equal(same.LeftOut, row.LeftOut);
            Assert.Equal(same.AddedIn, row.AddedIn);
            Assert.Equal(same.BoughtDb, row.BoughtDb);
        }
    }

    [Fact]
    public void FiguresDoNotDependOnThreads()
    {
        AddBand();
        HeadroomReport one = Measure(wholly: true, threads: 1);
        Directory.Delete(Path.Combine(song.Folder, "cache"), recursive: true);
        HeadroomReport four = Measure(wholly: true, threads: 4);
        Assert.Equal(one.Rows.Select(row => (row.LeftOut, row.AddedIn, row.BoughtDb)), four.Rows.Select(row => (row.LeftOut, row.AddedIn, row.BoughtDb)));
    }

    [Fact]
    public void BypassedCorrectionsAndUntreatedStemsHaveNoRow()
    {
        AddBand();
        song.Song = song.Song with { Stems = song.Song.Stems.SetItem(0, Bypass(song.Song.Stems[0], "compressor")) };
        Assert.Equal(["bass", "bass, Equaliser", "song bus, Compressor"], Measure().Rows.Select(row => row.Subject.Words));
    }

    [Fact]
    public void KeysFromOtherStemsSteerTheTrials()
    {
        AddBand();
        ChainSlot keyed = TestSong.Slot("compressor", ("thresholdDb", -30), ("ratio", 8)) with { KeyStem = "drums" };
        Stem bass = song.Song.Stems[1];
        song.Song = song.Song with
        {
            Stems = song.Song.Stems.SetItem(1, bass with { Chain = TestSong.Chain(bass.Chain.Slots[0], keyed) }),
            Bus = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -20)) with { KeyStem = "bass" }, song.Song.Bus.Slots[^1]),
        };
        HeadroomReport report = Measure();
        AssertSame(Loudness(song.Song), report.AllIn.IntegratedLufs);
        Song without = song.Song with { Stems = song.Song.Stems.SetItem(1, Bypass(song.Song.Stems[1], "equaliser")) };
        AssertSame(Loudness(without), Row(report, "bass", "equaliser").LeftOut.IntegratedLufs);
    }

    [Fact]
    public void BusWithoutALimiterIsRefused()
    {
        AddBand();
        song.Song = song.Song with { Bus = Chain.Empty };
        Assert.Contains("limiter", Assert.Throws<DeliveryException>(() => Measure()).Message, StringComparison.Ordinal);
    }

    private HeadroomReport Measure(bool wholly = false, int threads = 2) =>
        HeadroomAccount.Measure(song.Song, song.Folder, BuiltInProcessors.Catalogue, wholly, threads, null, CancellationToken.None);

    private static HeadroomRow Row(HeadroomReport report, string stem, string slot) =>
        report.Rows.Single(row => row.Subject.Slot == slot && row.Subject.Words.StartsWith(stem, StringComparison.Ordinal));

    private static Stem Bypass(Stem stem, string slot) =>
        stem with { Chain = stem.Chain with { Slots = [.. stem.Chain.Slots.Select(each => each.Id == slot ? each with { Bypassed = true } : each)] } };

    // Sums in another order differ by 2^-24; a share may turn over in one of 1125 stretches.
    private void AssertPlain(Song state, HeadroomFigures figures)
    {
        (float[] left, float[] right) = RenderOf(state with { Bus = state.Bus with { Slots = state.Bus.Slots[..^1] } });
        LimiterTrial limiter = new(state.Bus.Slots[^1], 0, BuiltInProcessors.Catalogue, TestSong.SampleRate, Frames + 37);
        limiter.Add(left, right);
        HeadroomFigures plain = limiter.Finish();
        TruePeakMeter peaks = new();
        peaks.Add(left, right);
        peaks.Finish();
        AssertSame(peaks.SamplePeakDbfs, figures.SamplePeakDbfs);
        AssertSame(peaks.TruePeakDbtp, figures.TruePeakDbtp);
        AssertSame(plain.IntegratedLufs, figures.IntegratedLufs);
        AssertSame(plain.LargestReductionDb, figures.LargestReductionDb);

        AssertSame(plain.MeanReductionDb, figures.MeanReductionDb);
        Assert.Equal(plain.ShareAbove1Db, figures.ShareAbove1Db, 0.002);
        Assert.Equal(plain.ShareAbove3Db, figures.ShareAbove3Db, 0.002);
        AssertSame(Loudness(state), figures.IntegratedLufs);
    }

    private double Loudness(Song state)
    {
        (float[] left, float[] right) = RenderOf(state);
        LoudnessMeter meter = new(TestSong.SampleRate);
        meter.Add(left, right);
        return meter.IntegratedLufs;
    }

    private double PeakBeforeTheLimiter(Song state)
    {
        (float[] left, float[] right) = RenderOf(state with { Bus = state.Bus with { Slots = state.Bus.Slots[..^1] } });
        return Decibels.FromAmplitude(left.Concat(right).Max(Math.Abs));
    }

    private (float[] Left, float[] Right) RenderOf(Song state)
    {
        Song present = song.Song;
        song.Song = state;
        try
        {
            return song.Render(catalogue: BuiltInProcessors.Catalogue);
        }
        finally
        {
            song.Song = present;
        }
    }

    // Sums in another order differ by single-precision rounding, 24 bits: well below a thousandth of a decibel.
    private static void AssertSame(double expectedDb, double actualDb) => Assert.Equal(expectedDb, actualDb, 0.001);

    private void AddBand()
    {
        song.AddStem("drums", Bursts(1), Bursts(2), stem => stem with { Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -30), ("ratio", 3))) });
        song.AddStem("bass", Noise.White(Frames, 3, 0.1f), Noise.White(Frames, 4, 0.1f), stem => stem with
        {
            Chain = TestSong.Chain(TestSong.Slot("equaliser", ("band1.on", 1), ("band1.shape", 0), ("band1.frequencyHz", 200), ("band1.gainDb", -6))),
        });
        song.Song = song.Song with
        {
            Bus = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -20)), TestSong.Slot("limiter", ("inputGainDb", 6), ("ceilingDbtp", -1))),
        };
    }

    private static float[] Bursts(int seed, float[]? under = null)
    {
        float[] sound = Noise.White(Frames, seed, 0.4f);
        for (int i = 0; i < sound.Length; i++)
        {
            sound[i] = sound[i] * MathF.Exp(-(i % 12_000) / 3000f) + (under is null ? 0 : under[i]);
        }

        return sound;
    }
}
