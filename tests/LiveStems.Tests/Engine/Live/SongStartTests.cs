using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

/// <summary>A beat on the first frame of a song is heard whole, however the song comes to play.</summary>
public sealed class SongStartTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const float Beat = 0.1f;

    private readonly PlayedSong played = new();

    public void Dispose() => played.Dispose();

    [Fact]
    public void WhenItIsTheFirstToPlay()
    {
        AddBeat(played.Files, slots: []);
        played.Start();
        played.Player.Play();
        played.Run(0.1);
        AssertHeardWhole();
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void WhenItIsChosenWhileAnotherPlays(bool isLate)
    {
        float[] quiet = new float[4 * SampleRate];
        played.Files.AddStem("a", quiet, quiet);
        played.Start();
        played.Player.Play();
        played.Run(0.2);
        played.Forget();
        using TestSong other = new();
        AddBeat(other, isLate ? [TestSong.Slot("limiter")] : []);
        played.Player.Show(other.Song with { Title = "Other" }, other.Folder);
        played.Run(0.4);
        AssertHeardWhole();
    }

    private static void AddBeat(TestSong song, ChainSlot[] slots)
    {
        float[] beat = new float[2 * SampleRate];
        beat[0] = Beat;
        beat[1] = Beat / 2;
        song.AddStem("beat", beat, beat, stem => stem with { Chain = TestSong.Chain(slots) });
    }

    private void AssertHeardWhole()
    {
        int first = played.Device.Left.FindIndex(sample => sample != 0);
        Assert.True(first >= 0, "nothing was heard");
        Assert.Equal([Beat, Beat / 2, 0], played.Device.Left.Skip(first).Take(3));
        Assert.All(played.Device.Left.Skip(first + 2), sample => Assert.Equal(0, sample));
    }
}
