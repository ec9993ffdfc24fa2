using LiveStems.Albums.Model;
using LiveStems.Analysis.Comparing;
using LiveStems.Analysis.Delivery;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Analysis.Comparing;

public sealed class DeliveryDifferenceTests : IDisposable
{
    private const int Seconds = 16;

    private readonly TestSong song = new();
    private readonly string? cacheBefore = Environment.GetEnvironmentVariable("LIVESTEMS_CACHE");

    public DeliveryDifferenceTests() => Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", Path.Combine(song.Folder, "cache"));

    public void Dispose()
    {
        Environment.SetEnvironmentVariable("LIVESTEMS_CACHE", cacheBefore);
        song.Dispose();
    }

    [Fact]
    public void TheSameSettingsGiveTheSameSound()
    {
        AddNoise();
        Assert.True(Assert.Single(Measure(Deliver(), Deliver())).IsSameSound);
    }

    [Fact]
    public void AGainIsFoundThroughoutInEveryBandAtItsSize()
    {
        AddNoise();
        string before = Deliver();
        song.Song = song.Song with { Stems = [song.Song.Stems[0] with { Placement = Placement.AsDelivered with { GainDb = 2 } }] };
        BandChange change = Assert.Single(Assert.Single(Measure(before, Deliver())).Changes);
        Assert.True(change.IsThroughout);
        Assert.Equal(2, change.MeanDb, 0.01);
        Assert.True(change.LowestHz < 30 && change.HighestHz > 15_000);
    }

    [Fact]
    public void ABandIsFoundWhereItChanged()
    {
        // The second stem is a tone at 1 kHz from 4 to 10 s; 3 dB less of it against noise 30 dB below is 3 dB less of the octave.
        AddNoise(0.005f);
        float[] tone = new float[Seconds * TestSong.SampleRate];
        for (int i = 4 * TestSong.SampleRate; i < 10 * TestSong.SampleRate; i++)
        {
            tone[i] = 0.2f * MathF.Sin(2 * MathF.PI * 1000 / TestSong.SampleRate * (i % TestSong.SampleRate));
        }

        song.AddStem("tone", tone, tone);
        string before = Deliver();
        song.Song = song.Song with { Stems = song.Song.Stems.SetItem(1, song.Song.Stems[1] with { Placement = Placement.AsDelivered with { GainDb = -3 } }) };
        BandChange change = Measure(before, Deliver())[0].Changes[0];
        Assert.InRange(change.StartSeconds, 2, 4);
        Assert.InRange(change.EndSeconds, 10, 12);
        Assert.InRange(1000, change.LowestHz, change.HighestHz);
        Assert.Equal(-3, change.MeanDb, 0.5);
    }

    [Fact]
    public void AMovedCutIsNoChangeOfTheSound()
    {
        // Bursts at uneven times; the same floats, 0.75 s less of them at the start.
        float[] bursts = Noise.White(Seconds * TestSong.SampleRate, 1, 0.2f);
        for (int i = 0; i < bursts.Length; i++)
        {
            bursts[i] *= MathF.Exp(-(i % 31_013) / 4000f) * (1 + i / 100_000);
        }

        song.AddStem("bursts", bursts, bursts);
        string before = Deliver();
        song.Song = song.Song with { Edges = SongEdges.Usual with { TrimStartSeconds = 0.75 } };
        SongDifference difference = Measure(before, Deliver())[0];
        Assert.Equal(-0.75, difference.LaterSeconds);
        Assert.Equal(double.NegativeInfinity, difference.LargestDifferenceDbfs);
        Assert.Empty(difference.Changes);
        Assert.False(difference.IsSameSound);
    }

    private void AddNoise(float level = 0.05f) => song.AddStem(
        "noise", Noise.White(Seconds * TestSong.SampleRate, 1, level), Noise.White(Seconds * TestSong.SampleRate, 2, level));

    private string Deliver()
    {
        Song limited = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        Album album = new("Slack Water Letters", "The Kelp Ledger", new DeliveryTargets(null, 0), [limited], []);
        DeliveryOrder order = new([0], [DeliveryFormat.Find("float")], [], false, false, new DateOnly(2026, 3, 1), "LiveStems");
        return DeliveryRun.Deliver(album, song.Folder, BuiltInProcessors.Catalogue, order, Path.Combine(song.Folder, "out"), 1, null, TestContext.Current.CancellationToken).Folder;
    }

    private static IReadOnlyList<SongDifference> Measure(string before, string after) =>
        DeliveryDifference.Measure(before, after, null, TestContext.Current.CancellationToken);
}
