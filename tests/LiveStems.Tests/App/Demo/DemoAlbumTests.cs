using LiveStems.App.Demo;
using Xunit;

namespace LiveStems.Tests.App.Demo;

public class DemoAlbumTests
{
    public static TheoryData<string> Titles => [.. DemoAlbum.Songs.Select(song => song.Title)];

    [Theory]
    [MemberData(nameof(Titles))]
    public void EverySongLastsFromSixtyToNinetySecondsInEightToTenStems(string title)
    {
        DemoSong song = DemoAlbum.Songs.Single(item => item.Title == title);

        Assert.InRange(song.Form.Seconds, 60, 90);
        Assert.InRange(song.Stems.Count, 8, 10);
        Assert.Equal(song.Stems.Count, song.Stems.Select(stem => stem.FileName).Distinct().Count());
    }

    [Fact]
    public void SongsDifferInTempoAndOneInRate()
    {
        Assert.Equal(3, DemoAlbum.Songs.Select(song => song.Tempo).Distinct().Count());
        Assert.Equal([44100, 48000], DemoAlbum.Songs.Select(song => song.SampleRate).Distinct().Order());
    }

    [Fact]
    public void FaultsNameStemsOfTheirSongAndTimesInsideIt()
    {
        foreach (DemoSong song in DemoAlbum.Songs)
        {
            foreach (DemoFault fault in song.Faults)
            {
                Assert.Contains(song.Stems, stem => stem.Name == fault.Stem);
                Assert.InRange(fault.StartSeconds, 0, fault.EndSeconds);
                Assert.InRange(fault.EndSeconds, 0, song.Form.Seconds);
                Assert.InRange(fault.FrequencyHz, fault.LowHz, fault.HighHz);
            }
        }
    }

    [Fact]
    public void NotesNameEverySongAndFault()
    {
        string notes = DemoNotes.Text();

        Assert.All(DemoAlbum.Songs, song => Assert.Contains(song.Title, notes, StringComparison.Ordinal));
        Assert.All(DemoAlbum.Songs.SelectMany(song => song.Faults), fault => Assert.Contains(fault.Text, notes, StringComparison.Ordinal));
    }
}
