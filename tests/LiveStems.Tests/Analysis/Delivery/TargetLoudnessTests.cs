using LiveStems.Albums.Model;
using LiveStems.Analysis.Delivery;
using LiveStems.Dsp.Loudness;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Delivery;

public sealed class TargetLoudnessTests : IDisposable
{
    private readonly TestSong song = new();

    public void Dispose() => song.Dispose();

    [Theory]
    [InlineData(-23)]
    [InlineData(-14)]
    [InlineData(-12.5)]
    public void MasterMeetsItsTargetBelowItsCeiling(double targetLufs)
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("compressor"), TestSong.Slot("limiter")) };
        song.Song = Meet(targetLufs);
        (float[] left, float[] right) = song.Render(catalogue: BuiltInProcessors.Catalogue);
        ProgrammeMeter meter = new(TestSong.SampleRate);
        meter.Add(left, right);
        LoudnessReport report = meter.Finish();
        Assert.Equal(targetLufs, report.IntegratedLufs, 0.05);
        Assert.True(report.TruePeakDbtp <= -1);
    }

    [Fact]
    public void TargetOutOfReachSaysByHowMuch()
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        DeliveryException fault = Assert.Throws<DeliveryException>(() => Meet(-5));
        Assert.Contains("LU away", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void BusWithoutALimiterAtItsEndIsRefused()
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter"), TestSong.Slot("gain")) };
        Assert.Contains("limiter", Assert.Throws<DeliveryException>(() => Meet(-14)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(11.5)]
    [InlineData(12.4)]
    public void MasterIsNoLouderThanItsPeakToLoudnessRatioAllows(double ratioLu)
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        song.Song = Meet(new DeliveryTargets(null, -1) { LeastPeakToLoudnessLu = ratioLu });
        Assert.Equal(ratioLu, Measured().PeakToLoudnessLu!.Value, 0.05);
    }

    [Fact]
    public void OfLoudnessAndRatioTheQuieterWins()
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        Song loud = Meet(new DeliveryTargets(-12.5, -1) { LeastPeakToLoudnessLu = 12.5 });
        Song soft = Meet(new DeliveryTargets(-20, -1) { LeastPeakToLoudnessLu = 12.5 });
        song.Song = loud;
        Assert.Equal(12.5, Measured().PeakToLoudnessLu!.Value, 0.05);
        song.Song = soft;
        Assert.Equal(-20, Measured().IntegratedLufs, 0.05);
    }

    [Fact]
    public void RatioThatTheSongDoesNotHaveSaysByHowMuch()
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        DeliveryException fault = Assert.Throws<DeliveryException>(() => Meet(new DeliveryTargets(null, -1) { LeastPeakToLoudnessLu = 30 }));
        Assert.Contains("LU more", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void TargetThatNeedsMoreLimitingThanAllowedSaysWhatIsMissing()
    {
        AddMusic();
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        DeliveryException fault = Assert.Throws<DeliveryException>(() => Meet(new DeliveryTargets(-13, -1), 2));
        Assert.Contains("with at most 2 dB of limiting", fault.Message, StringComparison.Ordinal);
    }

    private LoudnessReport Measured()
    {
        (float[] left, float[] right) = song.Render(catalogue: BuiltInProcessors.Catalogue);
        ProgrammeMeter meter = new(TestSong.SampleRate);
        meter.Add(left, right);
        return meter.Finish();
    }

    private Song Meet(double targetLufs) => Meet(new DeliveryTargets(targetLufs, -1));

    private Song Meet(DeliveryTargets targets, double? mostReductionDb = null) => TargetLoudness.Meet(
        song.Song, targets, song.Folder, BuiltInProcessors.Catalogue, null, CancellationToken.None, mostReductionDb);

    // Noise in bursts, quiet enough that the lowest target needs gain and the highest much limiting.
    private void AddMusic()
    {
        float[] left = Noise.White(6 * TestSong.SampleRate, 11, 0.05f);
        float[] right = Noise.White(6 * TestSong.SampleRate, 12, 0.05f);
        for (int i = 0; i < left.Length; i++)
        {
            float burst = MathF.Exp(-(i % 12_000) / 3000f);
            left[i] *= burst;
            right[i] *= burst;
        }

        song.AddStem("a", left, right);
    }
}
