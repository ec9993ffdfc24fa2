using LiveStems.App.Demo.Score;
using Xunit;

namespace LiveStems.Tests.App.Demo.Score;

public class ScoreTests
{
    private static SongForm Form => new(120, 2, 1, 0.5, ("Verse", 0.5, "Am7 | F/A G7"), ("Chorus", 1, "C | E7sus4 E7"));

    [Theory]
    [InlineData("A4", 69)]
    [InlineData("C4", 60)]
    [InlineData("Bb3", 58)]
    [InlineData("F#5", 78)]
    public void PitchNamesAreKeyNumbers(string name, int key) => Assert.Equal(key, Pitch.Parse(name));

    [Fact]
    public void ConcertPitchIs440HzAndAnOctaveDoublesIt()
    {
        Assert.Equal(440, Pitch.Frequency(69), 9);
        Assert.Equal(880, Pitch.Frequency(81), 9);
    }

    [Theory]
    [InlineData("Am7", new[] { 9, 0, 4, 7 }, 9)]
    [InlineData("C/E", new[] { 0, 4, 7 }, 4)]
    [InlineData("Bb7sus4", new[] { 10, 3, 5, 8 }, 10)]
    [InlineData("Abm6", new[] { 8, 11, 3, 5 }, 8)]
    public void ChordSymbolsGivePitchClassesAndBass(string symbol, int[] classes, int bass)
    {
        Chord chord = Chord.Parse(symbol);

        Assert.Equal(classes, chord.Classes);
        Assert.Equal(bass, chord.Bass);
        Assert.Equal(bass, chord.BassFrom(28) % 12);
        Assert.InRange(chord.BassFrom(28), 28, 39);
    }

    [Fact]
    public void ChordsShareABarEvenly()
    {
        double[] beats = [.. Form.Chords.Select(span => span.Beat)];

        Assert.Equal([0, 4, 6, 8, 12, 14], beats);
        Assert.Equal(7, Form.ChordAt(7).Root);
    }

    [Fact]
    public void BeatsFollowTheTempoAndTheLastBarSlowsDown()
    {
        Assert.Equal(SongForm.LeadInSeconds + 6 * 0.5, Form.SecondsAt(6), 9);
        double[] lengths = [.. Enumerable.Range(12, 4).Select(beat => Form.SecondsAt(beat + 1) - Form.SecondsAt(beat))];
        Assert.Equal(lengths.Order(), lengths);
        Assert.InRange(lengths[^1], 0.5 * 1.4, 0.5 * 1.5);
    }

    [Fact]
    public void SwingDelaysTheSecondOfAPairOnly()
    {
        var swung = new Groove(Form, 1, 0.6, 0, 0, 1);

        Assert.Equal(Form.SecondsAt(2), swung.SecondsAt(2), 9);
        Assert.Equal(Form.SecondsAt(2.6), swung.SecondsAt(2.5), 9);
    }

    [Fact]
    public void ScatterIsSmallAndTheSameOnEveryRun()
    {
        double[] Lateness() => [.. Enumerable.Range(0, 48).Select(i => new Groove(Form, 1, 0.5, 0, 3, 9).SecondsAt(i / 4.0) - Form.SecondsAt(i / 4.0))];

        // Sums of three even numbers never leave three standard deviations.
        Assert.Equal(Lateness(), Lateness());
        Assert.All(Lateness(), late => Assert.InRange(late, -0.009, 0.009));
        Assert.True(Lateness().Distinct().Count() > 40);
    }

    [Fact]
    public void VoicesOfEverySongMoveLittleAndStayInTheirChord()
    {
        foreach (SongForm form in LiveStems.App.Demo.DemoAlbum.Songs.Select(song => song.Form))
        {
            var arranged = VoiceLeading.Arrange(form.Chords, 4, 52, 74);
            Assert.All(arranged, item => Assert.All(item.Keys, key => Assert.True(item.Span.Chord.Has(key))));
            Assert.All(arranged, item => Assert.True(item.Keys.SequenceEqual(item.Keys.Order()) && item.Keys[0] >= 52 && item.Keys[^1] <= 74));
            double movement = arranged.Zip(arranged.Skip(1), (a, b) => a.Keys.Zip(b.Keys, (x, y) => Math.Abs(x - y)).Average()).Average();
            Assert.InRange(movement, 0, 2);
        }
    }

    [Fact]
    public void OpenShapesAreThoseOfTheFirstPosition()
    {
        Assert.Equal([40, 47, 52, 56, 59, 64], Fretboard.Shape(Chord.Parse("E"), 0).Select(key => key ?? 0));
        Assert.Equal([0, 45, 52, 57, 60, 64], Fretboard.Shape(Chord.Parse("Am"), 0).Select(key => key ?? 0));
        Assert.Equal([0, 48, 52, 55, 60, 64], Fretboard.Shape(Chord.Parse("C"), 0).Select(key => key ?? 0));
    }

    [Fact]
    public void SungLinesCountFractionsAndRests()
    {
        List<SungNote> notes = SungLine.Parse(8, "A4 2/3 salt sQlt | - 1/3 | B4 1.5 wa- wO | C5 .5 _ _");

        Assert.Equal([8, 9, 10.5], notes.Select(note => Math.Round(note.Beat, 9)));
        Assert.Equal([false, false, true], notes.Select(note => note.IsTied));
        Assert.Equal("sQlt", notes[0].Sounds);
    }

    [Fact]
    public void StepsDivideTheBarEvenly() =>
        Assert.Equal([(4.0, 'x'), (6.0, 'X'), (7.75, 'g')], StepPattern.Hits("x... .... X... ...g", 4));
}
