using LiveStems.Albums.Model;
using LiveStems.View.Desk;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class StemPageTests : DrawerTest
{
    [Fact]
    public void AParallelIsAddedTurnedUpCheckedAlignedAndTakenAwayByHand()
    {
        Desk.Select(Desk.Stems[1].Place);
        Type("F6");
        Enter("Pressed");
        Assert.Equal("Pressed", Desk.Stems[1].Parallels[1].Name);
        Assert.Equal(1, Desk.Selection.Parallel);
        // A copy of the stem, five samples late.
        Assert.Null(Desk.Stems[1].Parallels[1].Blend.Set(0));
        Assert.Null(Desk.Stems[1].Parallels[1].Align.Set(5));
        Press("check");
        Wait(() => Desk.Parallels.Of(Desk.Stems[1].Parallels[1]) is not null);
        Assert.Equal(5, Desk.Parallels.Of(Desk.Stems[1].Parallels[1])!.Delay!.Value.Samples, 0.05);
        Assert.Contains("5.00 samples later", Line("Pressed").Detail, StringComparison.Ordinal);
        Press("align");
        Assert.Equal(0, Desk.Stems[1].Parallels[1].Align.Value, 0.05);
        Frame();
        Assert.Contains("changed since", Line("Pressed").Detail, StringComparison.Ordinal);
        Assert.NotNull(Desk.Parallels.Align(Desk.Stems[1].Parallels[1]));
        Press("fed after the chain");
        Assert.False(Desk.Song.Stems[1].Parallels[1].AfterChain);
        Assert.Null(Line("Pressed").Remove!());
        Frame();
        Assert.Single(Desk.Stems[1].Parallels);
        Assert.NotNull(Desk.Undo());
        Assert.Equal(2, Desk.Stems[1].Parallels.Count);
    }

    [Fact]
    public void PolarityHitsAndBlendOfAParallelAreInTheHand()
    {
        Desk.Select(Desk.Stems[1].Parallels[0].Place);
        Type("F6");
        ParallelRow parallel = Desk.Stems[1].Parallels[0];
        Press("turn polarity over");
        Assert.True(parallel.IsTurnedOver);
        Press("turn polarity back");
        Assert.False(parallel.IsTurnedOver);
        Press("blend by hits");
        Enter("much");
        Assert.Contains("onsets higher", Drawer.Page.Entry!.Hint(), StringComparison.Ordinal);
        Press("leave the blend");
        Assert.Contains("name of a new parallel", Drawer.Page.Entry!.Hint(), StringComparison.Ordinal);
        Assert.Null(Desk.Parallels.HitsOf(parallel));
    }

    [Fact]
    public void TheStemGetsAnotherNameAndRole()
    {
        Desk.Select(Desk.Stems[0].Place);
        Type("F6");
        Press($"rename {Desk.Stems[0].Name}");
        Enter("Low strings");
        Assert.Equal("Low strings", Desk.Stems[0].Name);
        Assert.Null(Line("strings").Act!());
        Assert.Equal(StemRole.Strings, Desk.Stems[0].Role);
        Frame();
        Assert.True(Line("strings").IsOn);
    }

    [Fact]
    public void OnTheSongBusItAsksForAStem()
    {
        Type("F6");
        Assert.Empty(Drawer.List.Lines);
        Assert.Contains("Choose a stem", Drawer.Page.Explanation, StringComparison.Ordinal);
    }

    private DrawerLine Line(string words) => Drawer.List.Lines.Single(line => line.Words == words);
}
