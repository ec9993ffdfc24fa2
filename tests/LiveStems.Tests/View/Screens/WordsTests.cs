using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public class WordsTests
{
    [Theory]
    // Equal temperament, A4 = 440 Hz (ISO 16): C4 is 261.6256 Hz, E2 82.4069 Hz.
    [InlineData(440, "A4")]
    [InlineData(261.6256, "C4")]
    [InlineData(82.4069, "E2")]
    [InlineData(446, "A4 +23 ct")]
    [InlineData(30.8677, "B0")]
    [InlineData(185, "F♯3")]
    [InlineData(622.254, "E♭5")]
    public void FrequenciesHaveTheNamesOfNotes(double frequencyHz, string name) => Assert.Equal(name, NoteName.Of(frequencyHz));

    [Theory]
    [InlineData(true, true, "F♯3, E♭5")]
    [InlineData(false, true, "F#3, E♭5")]
    [InlineData(true, false, "F♯3, Eb5")]
    public void SignsOfMusicThatAFontLacksAreWrittenInPlainLetters(bool hasSharp, bool hasFlat, string written) =>
        Assert.Equal(written, LiveStems.View.Controls.Fonts.Written("F♯3, E♭5", hasSharp, hasFlat));

    [Fact]
    public void TheCOfAnOctaveIsACWithoutCents()
    {
        for (int octave = 0; octave <= 10; octave++)
        {
            Assert.Equal($"C{octave}", NoteName.Of(NoteName.OfC(octave)));
        }
    }

    [Theory]
    // Audio EQ Cookbook (R. Bristow-Johnson): 1/Q = 2 sinh(ln 2 / 2 · bandwidth), one octave is Q 1.4142, two are 0.6667.
    [InlineData(1, 1.41421356)]
    [InlineData(2, 0.66666667)]
    public void BandwidthsAreThoseOfTheCookbook(double octaves, double q)
    {
        Assert.Equal(q, CorrectionBracket.QOfOctaves(octaves), 6);
        Assert.Equal(octaves, CorrectionBracket.OctavesOfQ(q), 6);
    }

    [Theory]
    [InlineData(1.0 / 3, "1/3 oct")]
    [InlineData(1, "1 oct")]
    [InlineData(2.5, "2.5 oct")]
    public void WidthsAreWrittenAsPeopleSayThem(double octaves, string words) => Assert.Equal(words, FrequencyText.OfOctaves(octaves));

    [Theory]
    [InlineData(65.25, false, "1:05")]
    [InlineData(65.25, true, "1:05.2")]
    [InlineData(-1, false, "0:00")]
    public void TimesAreMinutesAndSeconds(double seconds, bool withTenths, string words) => Assert.Equal(words, TimeText.Of(seconds, withTenths));
}
