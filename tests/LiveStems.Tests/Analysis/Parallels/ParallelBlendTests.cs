using LiveStems.Analysis.Parallels;
using LiveStems.Engine.Comparing;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Parallels;

public sealed class ParallelBlendTests : IDisposable
{
    private const int SampleRate = TestSong.SampleRate;
    private const int Seconds = 12;

    private readonly TestSong song = new();

    public void Dispose() => song.Dispose();

    [Fact]
    public void OnsetGainOnHitsOfKnownLevelIsThatOfTheArithmetic()
    {
        // Every half second 25 ms of noise at 0.4, then 250 ms at 0.1. The parallel is the stem itself at −6.02 dB, in step:
        // onset and sustain rise by 20 log 1.5 in the stem. In the song there is other noise beside it, of power 0.1²/3.
        AddHits(0.4f, 0.1f);
        AddBed(0.1f);
        WithParallel(-6.0206);
        BlendReport report = ParallelBlend.Measure(song.Song, "Drums", "Under", song.Folder, BuiltInProcessors.Catalogue, 0, Seconds, null, CancellationToken.None);
        Assert.InRange(report.InSong.Hits, 20, 24);
        Assert.Equal(3.522, report.InStem.OnsetDb, 0.02);
        Assert.Equal(3.522, report.InStem.SustainDb, 0.02);
        Assert.Equal(0, report.InStem.OnsetToSustainDb, 0.02);
        Assert.Equal(3.522, report.StemLouderLu, 0.05);
        double onset = 10 * Math.Log10((2.25 * 0.16 + 0.01) / (0.16 + 0.01));
        double sustain = 10 * Math.Log10((2.25 * 0.01 + 0.01) / (0.01 + 0.01));

        // Both noises are unlike by chance only: 20 ms at 48 kHz in two channels, 24 hits, spread under 0.1 dB.
        Assert.Equal(onset, report.InSong.OnsetDb, 0.15);
        Assert.Equal(sustain, report.InSong.SustainDb, 0.15);
    }

    [Fact]
    public void BlendMeetsTheWantedOnsetGainBehindTheSongChain()
    {
        AddHits(0.4f, 0.1f);
        AddBed(0.1f);
        WithParallel(-60);
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("gain", ("gainDb", -12)), TestSong.Slot("limiter")) };
        BlendReport met = ParallelBlend.Meet(0.5, song.Song, "Drums", "Under", song.Folder, BuiltInProcessors.Catalogue, 0, Seconds, null, CancellationToken.None);
        Assert.Equal(0.5, met.FairOnsetDb, ParallelBlend.ToleranceDb);

        // Measured afresh at that blend it is the same.
        WithParallel(met.BlendDb);
        BlendReport again = ParallelBlend.Measure(song.Song, "Drums", "Under", song.Folder, BuiltInProcessors.Catalogue, 0, Seconds, null, CancellationToken.None);
        Assert.Equal(met.InSong, again.InSong);
    }

    [Fact]
    public void GainOutOfReachIsToldInOneLine()
    {
        AddHits(0.4f, 0.1f);
        WithParallel(-60);
        string message = Assert.Throws<ComparisonException>(() =>
            ParallelBlend.Meet(30, song.Song, "Drums", "Under", song.Folder, BuiltInProcessors.Catalogue, 0, Seconds, null, CancellationToken.None)).Message;
        Assert.Contains("not by +30.0 dB", message, StringComparison.Ordinal);
    }

    private void AddHits(float onset, float sustain)
    {
        float[] left = Noise.White(Seconds * SampleRate, 1, 1);
        float[] right = Noise.White(Seconds * SampleRate, 2, 1);
        for (int i = 0; i < left.Length; i++)
        {
            double place = i % (SampleRate / 2) / (double)SampleRate - 0.1;
            float level = place is >= 0 and < 0.025 ? onset : place is >= 0.025 and < 0.275 ? sustain : 0;
            left[i] *= level;
            right[i] *= level;
        }

        song.AddStem("Drums", left, right);
    }

    private void AddBed(float level) => song.AddStem("Bed", Noise.White(Seconds * SampleRate, 3, level), Noise.White(Seconds * SampleRate, 4, level));

    private void WithParallel(double blendDb) => song.Song = song.Song with
    {
        Stems = song.Song.Stems.SetItem(0, song.Song.Stems[0] with { Parallels = [TestSong.ParallelPath(true, blendDb)] }),
    };
}
