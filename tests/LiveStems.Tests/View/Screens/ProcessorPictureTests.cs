using LiveStems.View.Controls;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

/// <summary>Every processor has a picture of its own, whatever it is called.</summary>
public sealed class ProcessorPictureTests : DrawerTest
{
    private ProcessorPictures Pictures => Screen.Root.Everything().OfType<ProcessorPictures>().Single();

    [Theory]
    [InlineData("gain", typeof(ResponseControl))]
    [InlineData("width", typeof(ResponseControl))]
    [InlineData("room", typeof(ResponseControl))]
    [InlineData("equaliser", typeof(ResponseControl))]
    public void WhatWasMeasuredIsShown(string id, Type picture)
    {
        Add(id);
        Assert.Contains(Pictures.Beside, each => each.GetType() == picture);
        Control shown = Pictures.Beside.Single(each => each.GetType() == picture);
        Assert.True(shown.Bounds is { Width: > 60, Height: > 30 }, $"{shown.Bounds}");
        Assert.InRange(Pictures.Beside.Count, 1, 2);
    }

    [Fact]
    public void ATransientShaperShowsItsGainAfterAStep()
    {
        Add("transient-shaper");
        Assert.Null(Desk.Chain.Selected!.Parameter("attackDb")!.Set(6));
        Wait(() => Pictures.Beside.OfType<StepControl>().Any());
    }

    [Fact]
    public void ASaturatorShowsItsHarmonicsAndItsLevelCurve()
    {
        Add("saturator");
        Assert.Null(Desk.Chain.Selected!.Parameter("driveDb")!.Set(24));
        Wait(() => Pictures.Beside.OfType<HarmonicsControl>().Any() && Pictures.HasCurve);
    }

    [Fact]
    public void OnceAGainHasBeenReducedItsHistoryIsShownAndStays()
    {
        Desk.Select(Desk.Stems[0].Place);
        Desk.Chain.Processors.Single(each => each.Id == "compressor").Select();
        Frame();
        Assert.Empty(Pictures.Beside.OfType<ReductionPicture>());
        Assert.True(Pictures.HasCurve);
        Desk.Transport.Play();
        Wait(() =>
        {
            Album.Run(Desk, 0.1);
            return Pictures.Beside.OfType<ReductionPicture>().Any();
        });
        Desk.Select(Desk.Stems[1].Place);
        Frame();
        Desk.Select(Desk.Stems[0].Place with { Slot = "compressor" });
        Frame();
        Assert.Contains(Pictures.Beside, each => each is ReductionPicture);
        Desk.Select(Desk.Stems[0].Place with { Slot = "equaliser" });
        Frame();
        Assert.DoesNotContain(Pictures.Beside, each => each is ReductionPicture);
    }

    [Fact]
    public void NoPictureIsShownOfAChain()
    {
        Desk.Select(Desk.Stems[0].Place);
        Frame();
        Assert.Empty(Screen.Root.Everything().OfType<ProcessorPictures>());
    }

    private void Add(string id)
    {
        Desk.Select(Desk.Stems[1].Place);
        Assert.Null(Desk.Chain.Add(id));
        Wait(() => Desk.Probed.Known is not null);
    }
}
