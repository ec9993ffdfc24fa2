using LiveStems.App.Demo.Score;
using Xunit;

namespace LiveStems.Tests.App.Demo;

[Collection("Demo sound")]
public class TheNightDredgerTests(DredgerSound sound) : SongSoundTests(sound), IClassFixture<DredgerSound>
{
    private readonly SongForm form = sound.Song.Form;

    [Fact]
    public void HatsRingInTheSecondVerseOnly()
    {
        Assert.InRange(Faults.Ring(sound["Drums"], 8950, form, "Verse 2"), 8, 13);
        Assert.InRange(Faults.Ring(sound["Drums"], 8950, form, "Verse 1"), -2, 2);
    }

    [Fact]
    public void PickClicksAtEveryBassNoteOfTheVerse() => Faults.AssertPickClicks(sound["Bass"], form, "Verse 1");

    [Fact]
    public void GuitarsGlareInTheChoruses() => Assert.True(
        Faults.Glare(sound["Guitars rhythm"], form, "Chorus 1") > Faults.Glare(sound["Guitars rhythm"], form, "Verse 1") + 3);

    [Fact]
    public void PercussionCarriesNeedlessLowEnd() => Faults.AssertNeedlessSub(sound["Percussion"]);

    [Fact]
    public void PadHissesAboveItsRange() => Faults.AssertHiss(sound["Pad"]);

    [Fact]
    public void LeadVoiceRumbles() => Faults.AssertRumble(sound["Lead voice"]);

    [Fact]
    public void SibilantOfSomethingSticksOut() =>
        Faults.AssertSibilant(sound["Lead voice"], form, 4 * form["Verse 1"].FirstBar + 8.5, 0);

    [Fact]
    public void SnareHasNoImpact()
    {
        double impact = Faults.Impact(sound["Drums"], form, "Chorus 1");
        Assert.True(impact < -22, $"{impact:0.0} dB");
    }

    [Fact]
    public void BassRingsOnWhereTheScoreRests() =>
        Assert.InRange(Faults.LeftOver(sound["Bass"], form, 4 * form["Verse 1"].FirstBar + 7.5, 0.25), -15, 0);
}
