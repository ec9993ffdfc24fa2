using LiveStems.Albums.Import;
using Xunit;

namespace LiveStems.Tests.Albums.Import;

public class DeliveredNameTests
{
    [Theory]
    [InlineData("01 Foghorn Waltz", "Foghorn Waltz")]
    [InlineData("1. Foghorn Waltz", "Foghorn Waltz")]
    [InlineData("03_Foghorn_Waltz", "Foghorn Waltz")]
    [InlineData("07 - Low Tide", "Low Tide")]
    [InlineData("(2) Low Tide", "Low Tide")]
    [InlineData("99 Boats", "99 Boats")]
    [InlineData("01", "01")]
    [InlineData("1984", "1984")]
    public void ATitleLosesTheNumberOfItsTrack(string folder, string title) =>
        Assert.Equal([title], DeliveredName.Songs([folder]));

    [Fact]
    public void ANumberWithoutASignIsATrackNumberWhereOthersHaveOne() =>
        Assert.Equal(["Foghorn Waltz", "99 Boats"], DeliveredName.Songs(["1 Foghorn Waltz", "2 99 Boats"]));

    [Fact]
    public void StemsLoseNumbersAndTheTitleOfTheirSong() => Assert.Equal(
        ["Bass DI", "Lead Vocal", "12 String", "808"],
        DeliveredName.Stems(["01_Bass DI", "Foghorn Waltz - 02 Lead_Vocal", "12 String", "808"], "Foghorn Waltz"));

    [Fact]
    public void AStemCalledLikeItsSongKeepsItsName() =>
        Assert.Equal(["Bass", "Bassline"], DeliveredName.Stems(["Bass", "Bassline"], "Bass"));

    [Theory]
    [InlineData("Rough Mix", true)]
    [InlineData("RoughMix_v3", true)]
    [InlineData("mix", true)]
    [InlineData("Reference Mix 2", true)]
    [InlineData("REF", true)]
    [InlineData("Mixed Choir", false)]
    [InlineData("Drum Mix", false)]
    [InlineData("Rough Guitar", false)]
    public void ARoughMixIsKnownByItsName(string name, bool isRoughMix) => Assert.Equal(isRoughMix, DeliveredName.IsRoughMix(name));

    [Theory]
    [InlineData("A/B: \"Test\"?", "A-B- -Test--")]
    [InlineData("..", "-")]
    [InlineData("End.", "End")]
    [InlineData("Ærø 東京", "Ærø 東京")]
    public void FolderNamesAreTakenByEveryFileSystem(string title, string folder) => Assert.Equal(folder, DeliveredName.OnDisk(title));

    [Fact]
    public void NumbersInNamesAreOrderedByTheirValue()
    {
        string[] names = ["10 Vocals", "2 bass", "1 Drums", "2 Bass", "02 Bass", "Bass 10b", "Bass 9", "bass"];
        Assert.Equal(["1 Drums", "02 Bass", "2 Bass", "2 bass", "10 Vocals", "bass", "Bass 9", "Bass 10b"], names.Order(NaturalOrder.Comparer));
    }
}
