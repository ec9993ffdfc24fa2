using System.Security.Cryptography;
using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Import;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using Xunit;

namespace LiveStems.Tests.Albums.Import;

public sealed class AlbumImportTests : IDisposable
{
    private readonly TemporaryFolder disk = new();

    private string AlbumFolder => disk.At("Harbour Lights");

    public void Dispose() => disk.Dispose();

    [Fact]
    public void AFolderOfFoldersBecomesSongsInNaturalOrder()
    {
        Deliver("in/10 Low Tide/Bass.wav", "in/2 Foghorn Waltz/10 Ld Vox.wav", "in/2 Foghorn Waltz/2 Drums.wav", "in/2 Foghorn Waltz/1 Bass.wav");
        Album album = Import("in").Album;
        Assert.Equal("Harbour Lights", album.Title);
        Assert.Equal(["Foghorn Waltz", "Low Tide"], album.Songs.Select(song => song.Title));
        Assert.Equal(["Bass", "Drums", "Ld Vox"], album.Songs[0].Stems.Select(stem => stem.Name));
        Assert.Equal([StemRole.Bass, StemRole.Drums, StemRole.LeadVocal], album.Songs[0].Stems.Select(stem => stem.Role));
        Assert.Equal(Spelt.Out(album), Spelt.Out(AlbumFile.Load(AlbumFolder, PlainProcessors.Catalogue)));
    }

    [Fact]
    public void FilesFromOutsideAreCopiedAndLeftAsTheyAre()
    {
        string source = Deliver("in/Foghorn Waltz/Bass.wav")[0];
        byte[] before = File.ReadAllBytes(source);
        Stem stem = Import("in").Album.Songs[0].Stems[0];
        Assert.Equal("Foghorn Waltz/Bass.wav", stem.File);
        Assert.Equal(before, File.ReadAllBytes(AlbumPath.OnDisk(AlbumFolder, stem.File)));
        Assert.Equal(before, File.ReadAllBytes(source));
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(before)), stem.Sha256);
        Assert.Equal(["Foghorn Waltz", AlbumFile.Name], Directory.GetFileSystemEntries(AlbumFolder).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void FilesInsideTheAlbumStayWhereTheyAre()
    {
        Deliver("Harbour Lights/delivered/01 Foghorn Waltz/Bass ü.wav");
        ImportResult result = Import("Harbour Lights");
        Assert.Equal("delivered/01 Foghorn Waltz/Bass ü.wav", Assert.Single(result.Album.Songs[0].Stems).File);
        Assert.False(Directory.Exists(disk.At("Harbour Lights/Foghorn Waltz")));
    }

    [Fact]
    public void TheRoughMixIsNoStem()
    {
        Deliver("in/Foghorn Waltz/Bass.wav", "in/Foghorn Waltz/Foghorn Waltz Rough Mix v2.wav");
        Song song = Import("in").Album.Songs[0];
        Assert.Equal("Foghorn Waltz/Foghorn Waltz Rough Mix v2.wav", song.RoughMix);
        Assert.Single(song.Stems);
    }

    [Fact]
    public void WhatIsNoSoundIsListedAsSkipped()
    {
        Deliver("in/Foghorn Waltz/Bass.wav", "in/Foghorn Waltz/.hidden.wav", "in/Foghorn Waltz/old/Bass.wav");
        File.WriteAllText(disk.At("in/Foghorn Waltz/notes.txt"), "loud");
        ImportResult result = Import("in");
        Assert.Equal(
            [".hidden.wav: hidden", "notes.txt: no sound file", "old: folder inside the folder of a song"],
            result.Skipped.Select(file => $"{Path.GetFileName(file.Path)}: {file.Reason}"));
    }

    [Fact]
    public void EveryFaultIsNamedAndNothingIsChanged()
    {
        Deliver("in/Foghorn Waltz/Bass.wav", "in/Foghorn Waltz/01 Bass.wav", "in/Low Tide/rough mix.wav", "in/Low Tide/mix.wav");
        File.WriteAllText(disk.At("in/Low Tide/Drums.wav"), "no sound at all");
        AlbumException fault = Assert.Throws<AlbumException>(() => Import("in", "nowhere"));
        Assert.Equal(4, fault.Faults.Count);
        Assert.Contains(fault.Faults, each => each.Path.EndsWith("nowhere", StringComparison.Ordinal));
        Assert.Contains(fault.Faults, each => each.Path.EndsWith("Bass.wav", StringComparison.Ordinal) && each.Message.Contains("rename one", StringComparison.Ordinal));
        Assert.Contains(fault.Faults, each => each.Path.EndsWith("rough mix.wav", StringComparison.Ordinal) && each.Message.Contains("'mix.wav'", StringComparison.Ordinal));
        Assert.Contains(fault.Faults, each => each.Path.EndsWith("Drums.wav", StringComparison.Ordinal));
        Assert.DoesNotContain('\n', fault.Message);
        Assert.False(Directory.Exists(AlbumFolder));
    }

    [Fact]
    public void AFolderWithoutSoundIsAFault()
    {
        Directory.CreateDirectory(disk.At("in/empty"));
        Assert.Contains("no sound files", Assert.Throws<AlbumException>(() => Import("in")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void TwoFoldersOfOneTitleAreAFault()
    {
        Deliver("a/Low Tide/Bass.wav", "b/01 Low Tide/Bass.wav");
        AlbumException fault = Assert.Throws<AlbumException>(() => Import("a", "b"));
        Assert.Contains("rename one of the folders", fault.Faults[0].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ImportingAgainChangesNothing()
    {
        Deliver("in/Foghorn Waltz/Bass.wav", "in/Foghorn Waltz/mix.wav");
        Album first = Import("in").Album;
        ImportResult second = Import("in");
        Assert.Equal(Spelt.Out(first), Spelt.Out(second.Album));
        Assert.All(second.Files, file => Assert.Equal(ImportChange.Unchanged, file.Change));
    }

    [Fact]
    public void NewStemsJoinASongAndItsSettingsAreKept()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        Import("in");
        Change("Foghorn Waltz/Bass.gainDb = -3");
        Deliver("in/Foghorn Waltz/Drums.wav");
        Album album = Import("in").Album;
        Assert.Equal(["Bass", "Drums"], album.Songs[0].Stems.Select(stem => stem.Name));
        Assert.Equal(-3, album.Songs[0].Stems[0].Placement.GainDb);
    }

    [Fact]
    public void ASongKeepsTheTitleItWasGiven()
    {
        Deliver("Harbour Lights/Foghorn Waltz/Bass.wav");
        Import("Harbour Lights");
        Change("1.title = The Waltz of the Foghorn");
        Album album = Import("Harbour Lights").Album;
        Assert.Equal("The Waltz of the Foghorn", Assert.Single(album.Songs).Title);
    }

    [Fact]
    public void ANewDeliveryInThePlaceOfTheOldIsRevised()
    {
        Deliver("Harbour Lights/Foghorn Waltz/Bass.wav");
        Import("Harbour Lights");
        Change("1/1.gainDb = -3");
        SoundFiles.Write(disk.At("Harbour Lights/Foghorn Waltz/Bass.wav"), filling: 99);
        ImportResult result = Import("Harbour Lights");
        Assert.Equal(ImportChange.Revised, Assert.Single(result.Files).Change);
        Stem stem = result.Album.Songs[0].Stems[0];
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(SoundFiles.Bytes(99))), stem.Sha256);
        Assert.Equal(-3, stem.Placement.GainDb);
    }

    [Fact]
    public void AnotherSoundOfTheSameNameFromOutsideIsAFault()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        Import("in");
        string before = File.ReadAllText(Path.Combine(AlbumFolder, AlbumFile.Name));
        SoundFiles.Write(disk.At("in/Foghorn Waltz/Bass.wav"), filling: 99);
        SoundFiles.Write(disk.At("in/Foghorn Waltz/Drums.wav"));
        AlbumException fault = Assert.Throws<AlbumException>(() => Import("in"));
        Assert.Contains("to replace it", Assert.Single(fault.Faults).Message, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllText(Path.Combine(AlbumFolder, AlbumFile.Name)));
        Assert.False(File.Exists(Path.Combine(AlbumFolder, "Foghorn Waltz/Drums.wav")));
    }

    [Fact]
    public void AMissingStemIsRestoredByImportingItAgain()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        Import("in");
        string copy = Path.Combine(AlbumFolder, "Foghorn Waltz/Bass.wav");
        File.Delete(copy);
        Assert.Equal(ImportChange.Restored, Assert.Single(Import("in").Files).Change);
        Assert.True(File.Exists(copy));
    }

    [Fact]
    public void AFileThatIsInTheWayIsNotWrittenOver()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        string inTheWay = SoundFiles.Write(Path.Combine(AlbumFolder, "Foghorn Waltz/Bass.wav"), filling: 7);
        AlbumException fault = Assert.Throws<AlbumException>(() => Import("in"));
        Assert.Contains("another file of that name", fault.Message, StringComparison.Ordinal);
        Assert.Equal(SoundFiles.Bytes(7), File.ReadAllBytes(inTheWay));
    }

    [Fact]
    public void WhenTheAlbumCannotBeSavedTheCopiesGo()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        Directory.CreateDirectory(Path.Combine(AlbumFolder, AlbumFile.Name + ".saving"));
        Assert.Throws<AlbumException>(() => Import("in"));
        Assert.Equal(["album.json.saving"], Directory.GetFileSystemEntries(AlbumFolder).Select(Path.GetFileName));
    }

    [Fact]
    public void ACancelledImportLeavesNothing()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        using CancellationTokenSource cancel = new();
        cancel.Cancel();
        Assert.Throws<OperationCanceledException>(() => AlbumImport.Run(new ImportOrder(AlbumFolder, [disk.At("in")]), PlainProcessors.Catalogue, null, cancel.Token));
        Assert.False(Directory.Exists(AlbumFolder));
    }

    [Fact]
    public void ProgressEndsWithAllTheBytes()
    {
        Deliver("in/Foghorn Waltz/Bass.wav", "in/Foghorn Waltz/Drums.wav");
        Listener listener = new();
        AlbumImport.Run(new ImportOrder(AlbumFolder, [disk.At("in")]), PlainProcessors.Catalogue, listener, TestContext.Current.CancellationToken);
        Assert.Equal(listener.Heard[0].BytesTotal, listener.Heard.Max(progress => progress.BytesDone));
        Assert.Equal(2 * SoundFiles.Bytes(0).Length, listener.Heard[0].BytesTotal);
    }

    [Fact]
    public void ASingleFileBringsNothingElseOfItsFolder()
    {
        string[] files = [.. Deliver("in/Foghorn Waltz/Bass.wav", "in/Foghorn Waltz/Drums.wav", "in/Low Tide/Bass.wav")];
        ImportResult result = ImportFiles(files[0]);
        Song song = Assert.Single(result.Album.Songs);
        Assert.Equal("Foghorn Waltz", song.Title);
        Assert.Equal("Bass", Assert.Single(song.Stems).Name);
        Assert.Empty(result.Skipped);
        Assert.Equal(["Bass.wav"], Directory.GetFiles(Path.Combine(AlbumFolder, "Foghorn Waltz")).Select(Path.GetFileName));
    }

    [Fact]
    public void SingleFilesAreCalledWhatTheyWouldBeCalledWithTheirFolder()
    {
        string[] files = [.. Deliver("in/1 Foghorn Waltz/1 Bass.wav", "in/1 Foghorn Waltz/2 Drums.wav", "in/2 Low Tide/1 Bass.wav", "in/2 Low Tide/2 Rough mix.wav")];
        Album album = ImportFiles(files[1], files[3]).Album;
        Assert.Equal(["Foghorn Waltz", "Low Tide"], album.Songs.Select(song => song.Title));
        Assert.Equal("Drums", Assert.Single(album.Songs[0].Stems).Name);
        Assert.Equal("Low Tide/2 Rough mix.wav", album.Songs[1].RoughMix);
        Assert.Empty(album.Songs[1].Stems);
    }

    [Fact]
    public void ASingleFileJoinsTheSongOfItsFolderWhateverItIsCalledNow()
    {
        Deliver("in/Foghorn Waltz/Bass.wav", "in/Low Tide/Bass.wav");
        Import("in");
        Change("1.title = The Waltz of the Foghorn");
        Change("1/Bass.gainDb = -3");
        Album album = ImportFiles(Deliver("in/Foghorn Waltz/Drums.wav")[0]).Album;
        Assert.Equal(["The Waltz of the Foghorn", "Low Tide"], album.Songs.Select(song => song.Title));
        Assert.Equal(["Bass", "Drums"], album.Songs[0].Stems.Select(stem => stem.Name));
        Assert.Equal(-3, album.Songs[0].Stems[0].Placement.GainDb);
    }

    [Fact]
    public void AFileThatIsNoSoundIsAFaultAndSoIsOneThatIsNotThere()
    {
        Deliver("in/Foghorn Waltz/Bass.wav");
        File.WriteAllText(disk.At("in/notes.txt"), "loud");
        AlbumException fault = Assert.Throws<AlbumException>(() => ImportFiles(disk.At("in/notes.txt"), disk.At("in/none.wav")));
        Assert.Equal(["is no sound file by its name", "there is no such file; correct the path"], fault.Faults.Select(each => each.Message));
        Assert.False(Directory.Exists(AlbumFolder));
    }

    [Fact]
    public void AMovedStemIsFoundByWhatItHolds()
    {
        SoundFiles.Write(disk.At("Harbour Lights/Foghorn Waltz/Bass.wav"), 1);
        SoundFiles.Write(disk.At("Harbour Lights/Foghorn Waltz/Drums.wav"), 2);
        Album album = Import("Harbour Lights").Album;
        Directory.CreateDirectory(Path.Combine(AlbumFolder, "new place"));
        File.Move(Path.Combine(AlbumFolder, "Foghorn Waltz/Bass.wav"), Path.Combine(AlbumFolder, "new place/low end.wav"));
        SoundFiles.Write(Path.Combine(AlbumFolder, "elsewhere/Bass.wav"), 3);
        (Album linked, var found) = MovedStems.Find(album, AlbumFolder, null, TestContext.Current.CancellationToken);
        Assert.Equal(new MovedStem("Foghorn Waltz", "Bass", "Foghorn Waltz/Bass.wav", "new place/low end.wav"), Assert.Single(found));
        Assert.Equal("new place/low end.wav", linked.Songs[0].Stems[0].File);
        Assert.Empty(AlbumRules.MissingFiles(linked, AlbumFolder));
    }

    [Fact]
    public void AStemThatIsNowhereStaysMissing()
    {
        Deliver("Harbour Lights/Foghorn Waltz/Bass.wav");
        Album album = Import("Harbour Lights").Album;
        File.Delete(Path.Combine(AlbumFolder, "Foghorn Waltz/Bass.wav"));
        (Album same, var found) = MovedStems.Find(album, AlbumFolder, null, TestContext.Current.CancellationToken);
        Assert.Empty(found);
        Assert.Same(album, same);
        Assert.Equal("songs[0].stems[0].file", Assert.Single(AlbumRules.MissingFiles(album, AlbumFolder)).Path);
    }

    private ImportResult Import(params string[] folders) =>
        AlbumImport.Run(new ImportOrder(AlbumFolder, [.. folders.Select(disk.At)]), PlainProcessors.Catalogue, null, TestContext.Current.CancellationToken);

    private ImportResult ImportFiles(params string[] files) =>
        AlbumImport.Run(new ImportOrder(AlbumFolder, []) { Files = files }, PlainProcessors.Catalogue, null, TestContext.Current.CancellationToken);

    private List<string> Deliver(params string[] files) => [.. files.Select(file => SoundFiles.Write(disk.At(file)))];

    private void Change(string assignment)
    {
        Album album = AlbumFile.Load(AlbumFolder, PlainProcessors.Catalogue);
        AlbumFile.Save(AlbumAddress.Set(album, assignment, PlainProcessors.Catalogue), AlbumFolder, PlainProcessors.Catalogue);
    }

    private sealed class Listener : IProgress<ImportProgress>
    {
        public List<ImportProgress> Heard { get; } = [];

        public void Report(ImportProgress value)
        {
            lock (Heard)
            {
                Heard.Add(value);
            }
        }
    }
}
