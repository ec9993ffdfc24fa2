using System.Collections.Concurrent;
using LiveStems.Albums.Model;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
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
    public void AnotherPlaceIsMeasuredThoughItSharesItsSettings()
    {
        using AlbumDesk desk = album.Open();
        Assert.Null(desk.EditSong(song => song with { Stems = song.Stems.SetItem(1, song.Stems[1] with { Chain = song.Stems[0].Chain }) }));
        desk.Select(desk.Stems[0].Place with { Slot = "equaliser" });
        WaitFor(desk, () => desk.Probed.Known is not null);
        ChainSlot shared = desk.Chain.Selected!.Slot;
        desk.Select(desk.Stems[1].Place with { Slot = "equaliser" });
        desk.Update();
        Assert.Same(shared, desk.Chain.Selected!.Slot);
        Assert.Null(desk.Probed.Known);
        WaitFor(desk, () => desk.Probed.Known is not null);
    }

    [Fact]
    public void OneThatHangsIsNotMeasuredAgainThoughAnotherWasSelectedMeanwhile()
    {
        using Stuck stuck = new();
        using AlbumDesk desk = AlbumDesk.Open(album.Folder, new ProcessorCatalogue([() => new Hanging(stuck), () => new Noting()]), album.Device);
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("noting"));
        TapPlace other = desk.Selection;
        Assert.Null(desk.Chain.Add("hanging"));
        TapPlace hanging = desk.Selection;
        WaitFor(desk, () => stuck.Times == 1);
        desk.Select(other);
        desk.Update();
        stuck.IsNoticed.Set();
        WaitFor(desk, () => desk.Probed.Known is not null);

        desk.Select(hanging);
        WaitFor(desk, () => desk.Probed.Fault.Length > 0);
        Assert.Equal(Hanging.Words, desk.Probed.Fault);
        Assert.Equal(1, stuck.Times);
    }

    [Fact]
    public void WhatWasUnderWayIsKnownToNobodyOnceNothingIsSelected()
    {
        using Stuck stuck = new();
        using AlbumDesk desk = AlbumDesk.Open(album.Folder, new ProcessorCatalogue([() => new Hanging(stuck), () => new Noting()]), album.Device);
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("noting"));
        TapPlace other = desk.Selection;
        Assert.Null(desk.Chain.Add("hanging"));
        WaitFor(desk, () => stuck.Times == 1);
        desk.Select(desk.Stems[0].Place);
        desk.Update();
        stuck.IsNoticed.Set();

        // What is small is worked out one after the other: when this is done, what was under way is over.
        WaitFor(desk, desk.Jobs.Beside(() => true));
        Assert.Null(desk.Chain.Selected);
        Assert.Equal(string.Empty, desk.Probed.Fault);
        Assert.Null(desk.Probed.Known);
        desk.Select(other);
        WaitFor(desk, () => desk.Probed.Known is not null);
    }

    private static void WaitFor(AlbumDesk desk, Task task)
    {
        WaitFor(desk, () => task.IsCompleted);
        desk.Update();
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

    /// <summary>Where a processor does not come back from until somebody notices.</summary>
    private sealed class Stuck : IDisposable
    {
        private int times;

        public int Times => Volatile.Read(ref times);

        public ManualResetEventSlim IsNoticed { get; } = new();

        public void Enter()
        {
            Interlocked.Increment(ref times);
            IsNoticed.Wait(TimeSpan.FromMinutes(1));
        }

        public void Dispose() => IsNoticed.Dispose();
    }

    /// <summary>Does not come back while it is measured, until that is noticed.</summary>
    private sealed class Hanging(Stuck stuck) : Processor(new ProcessorDescription("hanging", "Hanging", 1, "For tests.", [], false))
    {
        public const string Words = "hanging does not come to an end";

        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            if (Thread.CurrentThread.Name == "small work")
            {
                stuck.Enter();
                throw new HostingException(Words);
            }
        }
    }
}
