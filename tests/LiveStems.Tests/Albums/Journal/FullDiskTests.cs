using LiveStems.Albums.Editing;
using LiveStems.Albums.Journal;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Journal;

/// <summary>An album is closed on a disk that takes nothing more.</summary>
public sealed class FullDiskTests : IDisposable
{
    private const string Full = "No space left on device";

    private readonly TemporaryFolder folder = new();

    public FullDiskTests() => AlbumFile.Save(ExampleAlbum.Album, folder.Path, PlainProcessors.Catalogue);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void WhatTheJournalHoldsIsSaidToBeKeptThereAndIsTakenInLater()
    {
        // A folder of that name keeps the album from being saved.
        string inTheWay = Directory.CreateDirectory(folder.At(AlbumFile.Name + SafeFile.BesideSuffix)).FullName;
        AlbumSession session = AlbumSession.Open(folder.Path, PlainProcessors.Catalogue);
        session.Do(Quieter(session.Album));
        session.Dispose();
        string line = session.Rescue()!;
        Assert.Contains(AlbumFile.FileOf(folder.Path), line, StringComparison.Ordinal);
        Assert.Contains("kept in album.journal", line, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', line);
        Directory.Delete(inTheWay);
        using AlbumSession later = AlbumSession.Open(folder.Path, PlainProcessors.Catalogue, Unsaved.TakeIn);
        Assert.Equal(-2, later.Album.Songs[0].Stems[0].Placement.GainDb);
    }

    [Fact]
    public void WhatNotEvenTheJournalTookIsCopiedElsewhereAndSaid()
    {
        Directory.CreateDirectory(folder.At(AlbumFile.Name + SafeFile.BesideSuffix));
        SessionWriter writer = Writer(room: 0);
        writer.Add(new JournalChange(JournalKind.Do, "Bass, gain: 0 → −2 dB", Quieter(ExampleAlbum.Album)));
        writer.Dispose();
        string line = writer.Rescue()!;
        Assert.Contains($"{AlbumFile.FileOf(folder.Path)}: could not be saved: Bass, gain: 0 → −2 dB: {Full}", line, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', line);
        string copy = line.Split("kept in ")[1].Split(": make room")[0];
        try
        {
            Assert.Equal(-2, AlbumFile.Load(copy, PlainProcessors.Catalogue).Songs[0].Stems[0].Placement.GainDb);
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(copy)!, recursive: true);
        }
    }

    [Fact]
    public void WhereTheAlbumItselfCouldBeSavedNothingIsMissing()
    {
        SessionWriter writer = Writer(room: 0);
        writer.Add(new JournalChange(JournalKind.Do, "quieter", Quieter(ExampleAlbum.Album)));
        writer.Dispose();
        Assert.Null(writer.Rescue());
        Assert.Equal(-2, AlbumFile.Load(folder.Path, PlainProcessors.Catalogue).Songs[0].Stems[0].Placement.GainDb);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(60)]
    public void NothingOfALineThatWasRefusedStaysInTheJournal(int room)
    {
        SessionWriter writer = Writer(room);
        writer.Add(new JournalChange(JournalKind.Do, "quieter", Quieter(ExampleAlbum.Album)));
        writer.Dispose();
        Assert.Equal(0, new FileInfo(folder.At(AlbumSession.JournalName)).Length);
    }

    private static Album Quieter(Album album) => AlbumAddress.Set(album, "Fog/Bass.gainDb = -2", PlainProcessors.Catalogue);

    private SessionWriter Writer(int room) => new(
        AlbumFile.FileOf(folder.Path),
        new JournalFile(new FullDisk(folder.At(AlbumSession.JournalName), room)),
        ExampleAlbum.Album,
        AlbumText.Of(ExampleAlbum.Album, PlainProcessors.Catalogue),
        isDirty: false,
        PlainProcessors.Catalogue);

    private sealed class FullDisk(string path, int room) : FileStream(path, FileMode.Create, FileAccess.Write, FileShare.ReadWrite, bufferSize: 0)
    {
        public override void Write(ReadOnlySpan<byte> buffer)
        {
            base.Write(buffer[..Math.Min(room, buffer.Length)]);
            throw new IOException(Full);
        }
    }
}
