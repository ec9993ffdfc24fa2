using LiveStems.Albums.Model;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerNotesTests : DrawerTest
{
    [Fact]
    public void ANoteIsTypedGoneToAndTakenAway()
    {
        Type("7");
        Enter("too much on the chorus");
        Assert.Equal("too much on the chorus", Assert.Single(Desk.Notes.OfSong).Text);
        Frame();
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Empty(Desk.Notes.OfSong);
        Assert.NotNull(Desk.Undo());
        Assert.Single(Desk.Notes.OfSong);
    }

    [Fact]
    public void ANoteAboutTheChosenStemKeepsItsTime()
    {
        Desk.Select(Desk.Stems[0].Place);
        Type("7");
        Enter("hum");
        Assert.Equal(0, Assert.Single(Desk.Notes.OfStem(0)).AtSeconds);
    }

    [Fact]
    public void TheWordsAndTheTimeOfANoteAreChanged()
    {
        Type("7");
        Enter("too much on the chorus");
        ChooseFirst();
        Press("change");
        Assert.Equal("0:00 too much on the chorus", Entry.Text);
        Enter("1:02.5 less of it");
        Note note = Assert.Single(Desk.Notes.OfSong);
        Assert.Equal("less of it", note.Text);
        Assert.Equal(62.5, note.AtSeconds);
        ChooseFirst();
        Press("change");
        Enter("anywhere");
        Assert.Null(Assert.Single(Desk.Notes.OfSong).AtSeconds);
        Enter("another one");
        Assert.Equal(2, Desk.Notes.OfSong.Length);
    }

    [Fact]
    public void AVersionIsSavedComparedAndDeletedByTwoPresses()
    {
        Type("5");
        Enter("first pass");
        Desk.Stems[0].Gain.Step(-2);
        Frame();
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Assert.Equal(CompareKind.Version, Desk.Compare.Kind);
        Host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Single(Desk.Versions.All);
        Frame();
        Assert.Contains("Delete again", Drawer.Page.Explanation, StringComparison.Ordinal);
        Host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Empty(Desk.Versions.All);
        Assert.Contains("Ctrl+Z", Desk.Messages[^1].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void AllThatIsOtherIsListedHoweverMuchItIs()
    {
        Type("5");
        Enter("first pass");
        Desk.Select(Desk.Stems[0].Place with { Slot = "equaliser" });
        ProcessorModel equaliser = Desk.Chain.Selected!;
        Assert.Null(equaliser.SetTogether(equaliser.Parameters.Select(each => KeyValuePair.Create(each.Spec.Id, each.Spec.Default == each.Spec.Maximum ? each.Spec.Minimum : each.Spec.Maximum))));
        Frame();
        ChooseFirst();
        Press("what is other");
        // A heading, and a line for each value.
        Assert.True(Drawer.List.Lines.Count(line => line.Words.StartsWith("Low Tide · Bass", StringComparison.Ordinal)) > 40, string.Join('|', Drawer.List.Lines.Select(line => line.Words)));
        Assert.DoesNotContain(Drawer.List.Lines, line => line.Words.Contains("livestems", StringComparison.Ordinal));
        Press("hide what is other");
        Assert.Single(Drawer.List.Lines);
    }

    [Fact]
    public void AnyTwoVersionsAreHeldAgainstEachOther()
    {
        Type("5");
        Enter("first pass");
        Assert.Null(Desk.Stems[0].Gain.SetText("-3 dB"));
        Enter("second pass");
        Assert.Null(Desk.Stems[0].Gain.SetText("-5 dB"));
        Frame();
        // The latest stands first.
        ChooseFirst();
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Press("mark");
        Assert.Equal([false, true], Drawer.List.Lines.Select(line => line.IsOn));
        Press("what is other");
        Assert.Contains(Drawer.List.Lines, line => line.Words.EndsWith("gain: 0 dB → −5 dB", StringComparison.Ordinal));
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Home, Modifiers.None, false);
        Frame();
        Press("what is other");
        Assert.Contains(Drawer.List.Lines, line => line is { IsHeading: true, Words: "from “first pass” to “second pass”" });
        Assert.Contains(Drawer.List.Lines, line => line.Words.EndsWith("gain: 0 dB → −3 dB", StringComparison.Ordinal));
        Press("hide what is other");
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Press("no mark");
        Assert.All(Drawer.List.Lines, line => Assert.Null(line.IsOn));
    }

    [Fact]
    public void ADeletedVersionComesBackByUndoOrByEnterAmongTheDeletedOnes()
    {
        Type("5");
        Enter("first pass");
        Assert.Null(Desk.Versions.Delete("first pass"));
        Frame();
        Host.KeyPressed(Key.Z, Modifiers.Control, false);
        Assert.Equal("first pass", Assert.Single(Desk.Versions.All).Name);
        Assert.Null(Desk.Versions.Delete("first pass"));
        Frame();
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.End, Modifiers.None, false);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Assert.Equal("first pass", Assert.Single(Desk.Versions.All).Name);
        Assert.Equal("bring back version 'first pass'", Desk.UndoWords);
    }

    [Fact]
    public void TheBlindTestDoesNotTellWhichSideIsHeard()
    {
        Type("6");
        Assert.Null(Desk.Compare.Choose(Desk.Compare.Kind));
        Album.PlayUntilFair(Desk);
        Frame();
        Press("begin");
        Assert.True(Desk.Compare.Blind.IsRunning);
        List<string> told = [];
        for (int i = 0; i < 5; i++)
        {
            Type(",");
            Frame();
            told.Add(string.Join('|', Drawer.List.Lines.Select(line => $"{line.Words}{line.Aside}{line.IsOn}")));
            // What the compare strip would show is hidden, and its keys are refused.
            Type("C");
            Assert.True(Desk.Compare.Blind.HearsFirst);
            Desk.Compare.Blind.Answer(LiveStems.Engine.Comparing.BlindAnswer.Same);
        }

        Assert.Single(told.Distinct());
        while (Desk.Compare.Blind.IsRunning)
        {
            Desk.Compare.Blind.Answer(LiveStems.Engine.Comparing.BlindAnswer.Same);
        }

        Frame();
        Assert.Contains(Drawer.List.Lines, line => line.Words.Contains("same", StringComparison.OrdinalIgnoreCase) || line.Words.Contains("of", StringComparison.Ordinal));
        Assert.Single(Desk.Notes.OfSong);
    }
}
