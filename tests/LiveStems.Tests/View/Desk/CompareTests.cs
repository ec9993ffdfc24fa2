using LiveStems.Albums.Storage;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class CompareTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void OneKeyGoesToAndFro()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.False(desk.Compare.IsOn);
        Assert.Null(desk.Compare.Toggle());
        Assert.Equal((true, CompareSide.In), (desk.Compare.IsOn, desk.Compare.Side));
        Assert.Null(desk.Compare.Toggle());
        Assert.Equal(CompareSide.Out, desk.Compare.Side);
        desk.Compare.Stop();
        Assert.False(desk.Compare.IsOn);
    }

    [Fact]
    public void AComparisonOfTheSelectionFollowsIt()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Select(new TapPlace(0, -1, "compressor"));
        Assert.Null(desk.Compare.Choose(CompareKind.Processor));
        Assert.Contains("compressor", desk.Compare.Words);
        desk.Select(new TapPlace(0, -1, "equaliser"));
        Assert.Contains("equaliser", desk.Compare.Words);
    }

    [Theory]
    [InlineData(CompareKind.Processor)]
    [InlineData(CompareKind.Parallel)]
    [InlineData(CompareKind.Stem)]
    [InlineData(CompareKind.RoughMix)]
    [InlineData(CompareKind.Version)]
    [InlineData(CompareKind.File)]
    public void NothingToCompareIsOneClearLine(CompareKind kind)
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        string? fault = desk.Compare.Choose(kind, "nowhere.wav");
        Assert.False(string.IsNullOrWhiteSpace(fault));
        Assert.DoesNotContain('\n', fault);
        Assert.False(desk.Compare.IsOn);
    }

    [Fact]
    public void AVersionIsComparedByEar()
    {
        using AlbumDesk desk = album.Open();
        AlbumVersions.Save(desk.Album, "first", desk.Folder, BuiltInProcessors.Catalogue);
        Assert.Null(desk.Stems[0].Gain.SetText("-3 dB"));
        album.Run(desk, 0.3);
        Assert.Null(desk.Compare.Choose(CompareKind.Version, "first"));
        Assert.Equal("version first", desk.Compare.Words);
    }

    [Fact]
    public void AComparedFileIsMovedToWhereItBelongs()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.NotNull(desk.Compare.StartFileAt(0.25));
        Assert.Null(desk.Compare.Choose(CompareKind.File, Path.Combine(desk.Folder, desk.Song.Stems[0].File)));
        Assert.Null(desk.Compare.StartFileAt(0.25));
        Assert.Equal(0.25, desk.Compare.FileStartSeconds);
        Assert.Contains("from 0.25 s", desk.Compare.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void NothingThatTellsTheSidesApartCanBeChangedDuringABlindTest()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Compare.Choose(CompareKind.File, Path.Combine(desk.Folder, desk.Song.Stems[0].File)));
        Assert.Null(desk.Compare.ToggleFair());
        Assert.False(desk.Compare.IsFair);
        album.PlayUntilFair(desk);
        Assert.Null(desk.Compare.Blind.Start(3));
        string words = desk.Compare.Words;

        // The page says that both are equally loud.
        Assert.True(desk.Compare.IsFair);
        Assert.NotNull(desk.Compare.ToggleFair());
        Assert.NotNull(desk.Compare.ToggleHearing());
        Assert.NotNull(desk.Compare.StartFileAt(0.25));
        Assert.NotNull(desk.Compare.Choose(CompareKind.AllStems));
        Assert.NotNull(desk.Compare.Hear(CompareSide.In));
        Assert.True(desk.Compare is { IsFair: true, IsInSong: true, IsOn: true, Blind.IsRunning: true, FileStartSeconds: 0 });
        Assert.Equal(words, desk.Compare.Words);
        desk.Compare.Blind.Stop();
        Assert.Null(desk.Compare.ToggleFair());
        Assert.False(desk.Compare.IsFair);
    }

    [Fact]
    public void ABlindTestEndsWithoutAResultWhenThereIsNothingToCompareAnyMore()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Select(new TapPlace(0, -1, "compressor"));
        Assert.Null(desk.Compare.Choose(CompareKind.Processor));
        album.PlayUntilFair(desk);
        Assert.Null(desk.Compare.Blind.Start(3));
        Assert.Null(desk.Chain.Selected!.Remove());
        desk.Compare.Blind.Answer(BlindAnswer.First);
        album.Run(desk, 0.1);
        Assert.Equal((false, false), (desk.Compare.IsOn, desk.Compare.Blind.IsRunning));
        Assert.Null(desk.Compare.Blind.Result);
        Assert.Empty(desk.Song.Notes);
        Assert.Contains(desk.Messages, message => message.Text.Contains("blind test", StringComparison.Ordinal));
        Assert.Null(desk.Compare.Choose(CompareKind.AllStems));
    }

    [Fact]
    public void ABlindTestEndsInANoteOfTheSong()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        Assert.Null(desk.Compare.Choose(CompareKind.AllStems));
        Assert.NotNull(desk.Compare.Blind.Start(3));
        album.PlayUntilFair(desk);
        Assert.NotNull(desk.Compare.Blind.Start(0));
        Assert.Null(desk.Compare.Blind.Start(3));
        for (int round = 1; round <= 3; round++)
        {
            Assert.Equal(round, desk.Compare.Blind.Round);
            desk.Compare.Blind.Hear(true);
            desk.Compare.Blind.Hear(false);
            desk.Compare.Blind.Answer(BlindAnswer.Same);
        }

        Assert.False(desk.Compare.Blind.IsRunning);
        Assert.Equal(3, desk.Compare.Blind.Result!.Same);
        Assert.StartsWith("blind test, all stems", Assert.Single(desk.Song.Notes).Text);
    }
}
