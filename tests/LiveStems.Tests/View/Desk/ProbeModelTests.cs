using System.Collections.Concurrent;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Engine;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class ProbeModelTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void WhatIsSelectedIsMeasuredOnAnotherThread()
    {
        using AlbumDesk desk = AlbumDesk.Open(album.Folder, new ProcessorCatalogue([() => new Noting()]), album.Device);
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("noting"));
        desk.Update();
        int own = Environment.CurrentManagedThreadId;
        int before = Noting.Calls.GetValueOrDefault(own);
        WaitFor(desk, () => desk.Probed.Known is not null);
        Assert.Equal(before, Noting.Calls.GetValueOrDefault(own));
        Assert.Contains(Noting.Calls, each => each.Key != own && each.Value > 0);
        Assert.Equal(string.Empty, desk.Probed.Fault);
    }

    [Fact]
    public void WhyOneCannotBeMeasuredIsSaidAndTheNextOneIsMeasured()
    {
        using AlbumDesk desk = AlbumDesk.Open(album.Folder, TestProcessors.Catalogue, album.Device);
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("breaker"));
        WaitFor(desk, () => desk.Probed.Fault.Length > 0);
        Assert.Contains("breaker", desk.Probed.Fault, StringComparison.Ordinal);
        Assert.Null(desk.Probed.Known);
        Assert.Null(desk.Chain.Add("scale"));
        WaitFor(desk, () => desk.Probed.Known is not null);
        Assert.Equal(string.Empty, desk.Probed.Fault);
    }

    [Fact]
    public void WhatIsKnownOfAProcessorIsNotShownForOneOfTheSameNameInAnotherChain()
    {
        using AlbumDesk desk = AlbumDesk.Open(album.Folder, TestProcessors.Catalogue, album.Device);
        desk.Select(desk.Stems[1].Place);
        Assert.Null(desk.Chain.Add("scale"));
        Assert.Null(desk.Chain.Selected!.Parameter("factor")!.Set(0.5));
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("scale"));
        string id = desk.Chain.Selected!.Id;
        Assert.Null(desk.Chain.Selected!.Parameter("factor")!.Set(1));
        WaitFor(desk, () => desk.Probed.Known is not null);
        Assert.Equal(0, desk.Probed.Known!.Response[0].GainDb, 1e-3);

        desk.Select(desk.Stems[1].Place with { Slot = id });
        desk.Update();
        Assert.Equal(id, desk.Chain.Selected!.Id);
        Assert.Null(desk.Probed.Known);
        WaitFor(desk, () => desk.Probed.Known is not null);
        // 20 lg 0.5.
        Assert.Equal(-6.0206, desk.Probed.Known!.Response[0].GainDb, 1e-3);
    }

    [Fact]
    public void ACopiedSongIsMeasuredThoughItSharesItsSettings()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(desk.Stems[0].Place with { Slot = "equaliser" });
        WaitFor(desk, () => desk.Probed.Known is not null);
        desk.ShowSong(1);
        desk.Select(desk.Stems[0].Place with { Slot = "equaliser" });
        desk.Update();
        Assert.Null(desk.Probed.Known);
        WaitFor(desk, () => desk.Probed.Known is not null);
    }

    private static void WaitFor(AlbumDesk desk, Func<bool> holds) => Assert.True(SpinWait.SpinUntil(
        () =>
        {
            desk.Update();
            Thread.Sleep(2);
            return holds();
        },
        TimeSpan.FromSeconds(120)));

    /// <summary>Notes which threads it is called on.</summary>
    private sealed class Noting() : Processor(new ProcessorDescription("noting", "Noting", 1, "For tests.", [], false))
    {
        public static ConcurrentDictionary<int, int> Calls { get; } = new();

        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment) => Calls.AddOrUpdate(Environment.CurrentManagedThreadId, 1, (_, count) => count + 1);
    }
}
