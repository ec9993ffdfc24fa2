using LiveStems.Albums.Model;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerFindingTests : DrawerTest
{
    [Fact]
    public void WhoCoversTheChosenStemIsShownOneAfterTheOther()
    {
        Assert.NotNull(Desk.Finding.ShowNextCovering());
        Desk.Select(Desk.Stems[0].Place);
        Assert.Null(Desk.Finding.ShowNextCovering());
        Wait(() => Desk.Finding.Masking is not null);
        IReadOnlyList<Covering> all = Covering.OfStem(Desk.Finding.Masking!.Value.Corrected, Desk.Stems[0].Name);
        foreach (Covering each in all)
        {
            Desk.Finding.ShowNextCovering();
            Assert.Equal(each, Desk.Finding.Covering);
            Assert.All(each.ByBand.Zip(each.ByBandOfAll), band => Assert.InRange(band.First, 0, band.Second + 1e-12));
        }

        Desk.Finding.ShowNextCovering();
        Assert.Null(Desk.Finding.Covering);
        Type("3");
        Assert.Equal(all.Select(each => each.By), Drawer.List.Lines.Skip(1).TakeWhile(line => !line.IsHeading).Select(line => line.Words));
    }

    [Fact]
    public void WhatTheSearchFindsIsListedHeardAndCorrected()
    {
        Type("2");
        Press("search the song");
        Wait(() => Desk.Finding.Of(0) is not null);
        Assert.NotEmpty(Drawer.List.Lines);
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        if (Drawer.List.Chosen >= 0)
        {
            Assert.NotNull(Desk.Finding.Shown);
            Host.KeyPressed(Key.Enter, Modifiers.None, false);
            Assert.True(Desk.Monitor.BandListen);
            int before = Desk.Chain.Processors.Count;
            Press("add correction");
            Assert.Equal(before + 1, Desk.Chain.Processors.Count);
        }

        Host.SetFocus(null);
        Type("2");
        Assert.Null(Desk.Finding.Shown);
    }

    [Fact]
    public void TheAccountSaysThatItIsFromBeforeAndWhatIsGone()
    {
        Type("4");
        Press("measure");
        Wait(() => Desk.Work.ShownAccount is not null);
        Assert.DoesNotContain(Drawer.List.Lines, line => line.Detail.Contains("before the last change", StringComparison.Ordinal));
        Desk.Select(Desk.Stems[0].Place);
        Assert.Null(Desk.Chain.Processors[1].Remove());
        Frame();
        DrawerLine gone = Assert.Single(Drawer.List.Lines, line => line.Detail.EndsWith("; gone since", StringComparison.Ordinal));
        Assert.Contains("gone since it was measured", gone.Act!(), StringComparison.Ordinal);
        Assert.Contains(Drawer.List.Lines, line => line.Detail.EndsWith("; before the last change", StringComparison.Ordinal));
        Assert.All(Drawer.List.Lines.Where(line => !line.IsHeading), line => Assert.Equal(Tone.Quiet, line.Tone));
        Assert.StartsWith("The song has been changed since", Drawer.Page.Explanation, StringComparison.Ordinal);
        Assert.NotNull(Desk.Undo());
        Frame();
        Assert.DoesNotContain(Drawer.List.Lines, line => line.Detail.Contains("before the last change", StringComparison.Ordinal));
    }

    [Fact]
    public void TheMaskingMapSaysThatItIsFromBefore()
    {
        Type("3");
        Press("listen through the song");
        Wait(() => Desk.Finding.Masking is not null);
        Desk.Select(Desk.Stems[0].Place);
        Frame();
        Assert.DoesNotContain(Drawer.List.Lines, line => line.Tone == Tone.Quiet);
        Assert.Null(Desk.Stems[0].Gain.SetText("-2 dB"));
        Frame();
        Assert.All(Drawer.List.Lines.Where(line => !line.IsHeading), line => Assert.Equal(Tone.Quiet, line.Tone));
        Assert.StartsWith("The song has been changed since", Drawer.Page.Explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void WhatTheCheckFoundIsAnsweredByHandAndTheAnswerTakenBack()
    {
        Type("1");
        Press("check the album");
        Wait(() => Desk.Work.Intake is not null);
        Assert.NotEmpty(Desk.Work.Intake!.Findings);
        ChooseFirst();
        Enter("meant so");
        IntakeAnswer answer = Assert.Single(Desk.Album.Songs.SelectMany(song => song.Answers));
        Assert.Equal("meant so", answer.Text);
        DrawerLine line = Drawer.List.Lines.First(each => each.Detail == "answered: meant so");
        Press("write the questions");
        Assert.NotEmpty(File.ReadAllLines(Path.Combine(Desk.Folder, WorkModel.QuestionsName)));
        Assert.Null(line.Remove!());
        Assert.Empty(Desk.Album.Songs.SelectMany(song => song.Answers));
    }
}
