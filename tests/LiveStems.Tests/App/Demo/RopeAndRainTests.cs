using LiveStems.App.Demo.Score;
using Xunit;

namespace LiveStems.Tests.App.Demo;

[Collection("Demo sound")]
public class RopeAndRainTests(RopeSound sound) : SongSoundTests(sound), IClassFixture<RopeSound>
{
    private readonly SongForm form = sound.Song.Form;

    [Fact]
    public void LeadVoiceIsThickOnLowNotesOnly()
    {
        double verse = Faults.Thickness(sound["Lead voice"], form, "Verse");
        double chorus = Faults.Thickness(sound["Lead voice"], form, "Chorus 1");
        Assert.True(verse > 4 && chorus < -4, $"verse {verse:0.0} dB, chorus {chorus:0.0} dB");
    }

    [Fact]
    public void SibilantOfSaySticksOut() => Faults.AssertSibilant(sound["Lead voice"], form, 4 * form["Verse"].FirstBar + 20, 0);

    [Fact]
    public void BoxOfTheAcousticGuitarBooms()
    {
        StemSound guitar = sound["Acoustic guitar"];
        double boom = guitar.Density(104, 124, form.StartOf("Verse"), form.EndOf("Verse"), 8192);
        double around = guitar.Density(140, 200, form.StartOf("Verse"), form.EndOf("Verse"), 8192);
        Assert.True(boom > around + 4, $"{boom:0.0} dB, around {around:0.0} dB");
    }

    [Fact]
    public void FootIsHeardUnderTheGuitar()
    {
        StemSound guitar = sound["Acoustic guitar"];
        double foot = guitar.Density(18, 40, 1, form.Seconds - 4, 16384);
        double gap = guitar.Density(55, 75, 1, form.Seconds - 4, 16384);
        Assert.True(foot > gap + 6, $"{foot:0.0} dB, above {gap:0.0} dB");
    }

    [Fact]
    public void StringsHissAboveTheirRange() => Faults.AssertHiss(sound["Strings"]);

    [Fact]
    public void ElectricPianoMovesBelowItsLowestNote() => Faults.AssertNeedlessSub(sound["Electric piano"]);

    [Fact]
    public void BassRingsOnWhereTheScoreRests() =>
        Assert.InRange(Faults.LeftOver(sound["Bass"], form, 4 * form["Verse"].FirstBar + 7, 2.0 / 3), -15, 0);
}
