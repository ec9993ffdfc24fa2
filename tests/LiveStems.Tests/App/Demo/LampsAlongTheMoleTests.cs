using LiveStems.App.Demo.Score;
using Xunit;

namespace LiveStems.Tests.App.Demo;

[Collection("Demo sound")]
public class LampsAlongTheMoleTests(LampsSound sound) : SongSoundTests(sound), IClassFixture<LampsSound>
{
    private readonly SongForm form = sound.Song.Form;

    [Fact]
    public void HatsRingInTheChorusesOnly()
    {
        // 512 frames resolve 1/24 of an octave at 7.8 kHz.
        Assert.InRange(Faults.Ring(sound["Drums"], 7800, form, "Chorus 1"), 8, 13);
        Assert.InRange(Faults.Ring(sound["Drums"], 7800, form, "Chorus 2"), 8, 13);
        Assert.InRange(Faults.Ring(sound["Drums"], 7800, form, "Verse"), -2, 2);
    }

    [Fact]
    public void PickClicksAtEveryBassNoteOfTheChorus() => Faults.AssertPickClicks(sound["Bass"], form, "Chorus 1");

    [Fact]
    public void DrivenGuitarsGlareInTheChoruses()
    {
        Assert.True(Faults.Glare(sound["Guitars driven"], form, "Chorus 1") > Faults.Glare(sound["Guitars driven"], form, "Bridge") + 3);
        Assert.True(Faults.Glare(sound["Guitars driven"], form, "Chorus 2") > Faults.Glare(sound["Guitars driven"], form, "Bridge") + 3);
    }

    [Fact]
    public void ElectricPianoHissesAboveItsRange() => Faults.AssertHiss(sound["Electric piano"]);

    [Fact]
    public void PadMovesBelowItsLowestNote() => Faults.AssertNeedlessSub(sound["Pad"]);

    [Fact]
    public void LeadVoiceRumbles() => Faults.AssertRumble(sound["Lead voice"]);

    [Fact]
    public void LeadVoiceIsThickOnLowNotesOnly()
    {
        double verse = Faults.Thickness(sound["Lead voice"], form, "Verse");
        double chorus = Faults.Thickness(sound["Lead voice"], form, "Chorus 1");
        Assert.True(verse > 4 && chorus < -8, $"verse {verse:0.0} dB, chorus {chorus:0.0} dB");
    }

    [Theory]
    [InlineData(17, 0)]
    [InlineData(12, 0.09)]
    public void SibilantsOfSaltAndStayStickOut(double beat, double secondsToVowel) =>
        Faults.AssertSibilant(sound["Lead voice"], form, form["Chorus 1"].FirstBar * 4 + beat, secondsToVowel);

    [Fact]
    public void SnareHasImpact()
    {
        double impact = Faults.Impact(sound["Drums"], form, "Chorus 1");
        Assert.True(impact > -19, $"{impact:0.0} dB");
    }

    [Theory]
    [InlineData(4.6, 74)]
    [InlineData(13, 67)]
    [InlineData(31, 71)]
    public void LeadVoiceIsInTune(double beat, double key)
    {
        double at = form.SecondsAt(4 * form["Chorus 1"].FirstBar + beat);
        double hertz = PitchMeter.Hertz(sound["Lead voice"], at, 0.18, 100, 900);

        // A vibrato of 34 cents averages out over its period of 0.18 s; a voice wanders some 15 cents.
        Assert.InRange(PitchMeter.Cents(hertz, key), -25, 25);
    }

    [Theory]
    [InlineData(0.3, 29)]
    [InlineData(4.3, 31)]
    [InlineData(8.3, 33)]
    public void BassIsInTune(double beat, double key)
    {
        double at = form.SecondsAt(4 * form["Chorus 1"].FirstBar + beat);
        double hertz = PitchMeter.Hertz(sound["Bass"], at, 0.2, 36, 120);

        Assert.InRange(PitchMeter.Cents(hertz, key), -8, 8);
    }
}
