using LiveStems.Albums.Model;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Engine.Hosting;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>What a person at the desk is told of processors of others.</summary>
public sealed class OutsideOnDeskTests : IDisposable
{
    private const string Late = "cannot be prepared (declares a latency of 2147483647 frames; from 0 to 10 s can be compensated)";

    private readonly DeskAlbum album = new();
    private readonly OutsideFiles files = new();

    public void Dispose()
    {
        album.Dispose();
        files.Dispose();
    }

    [Fact]
    public void OneThatCannotBePreparedIsToldOnceAndItsLineSaysThatTheSoundPassesItBy()
    {
        using AlbumDesk desk = Open(OutsideFiles.Catalogue(OutsideFiles.Maker("Hostile", "hostile-late")));
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("hostile-late"));
        ProcessorModel added = desk.Chain.Selected!;
        Assert.True(RunUntil(desk, () => added.PassedBy is not null));
        Assert.Equal(Late, added.PassedBy);
        string[] told = [$"Bass: the processor 'hostile-late' {Late}; the sound passes it by, its settings stay"];
        Assert.Equal(told, Troubles(desk));

        // Another plan of the same song says nothing new, and neither does coming back to it.
        Assert.Null(desk.Chain.Add("gain"));
        desk.ShowSong(1);
        Assert.True(RunUntil(desk, () => desk.Player.Look().Song == "High Tide"));
        desk.ShowSong(0);
        desk.Select(desk.Stems[0].Place);
        Assert.True(RunUntil(desk, () => desk.Player.Look().Song == "Low Tide" && desk.Chain.Processors.Any(each => each.PassedBy is not null)));
        Assert.Equal(told, Troubles(desk));

        // Switched off it is passed by as any other.
        ProcessorModel off = desk.Chain.Processors.Single(each => each.PassedBy is not null);
        Assert.Null(off.ToggleBypass());
        Assert.True(RunUntil(desk, () => off.PassedBy is null));
    }

    [Fact]
    public void OneThatIsNotHereIsToldWhenTheAlbumIsOpenedAndNotAgain()
    {
        using (AlbumDesk before = Open(OutsideFiles.Catalogue(OutsideFiles.Maker("Tilt", "outside-tilt"))))
        {
            before.Select(before.Stems[0].Place);
            Assert.Null(before.Chain.Add("outside-tilt"));
        }

        using AlbumDesk desk = Open(BuiltInProcessors.Catalogue);
        desk.Select(desk.Stems[0].Place);
        Assert.True(RunUntil(desk, () => desk.Chain.Processors[^1].PassedBy is not null));
        Assert.Equal("is not here", desk.Chain.Processors[^1].PassedBy);
        Assert.Single(desk.Messages, message => message.Text.Contains("outside-tilt", StringComparison.Ordinal));
    }

    [Fact]
    public void FaultsStandInTheLineOfTheChainAndAreKeptWhenTheAlbumIsClosed()
    {
        files.Put("Hostile");
        files.TrustAll();
        ProcessorHost host = files.Open();
        using ProcessorWatch watch = new(files.Places, host);
        string fault;
        using (AlbumDesk desk = Open(host.Catalogue))
        {
            desk.ProcessorWatch = watch;
            desk.Select(desk.Stems[0].Place);
            Assert.Null(desk.Chain.Add("hostile-throws"));
            ProcessorModel added = desk.Chain.Selected!;
            desk.Transport.SetLoop(0, 1);
            desk.Transport.Play();
            Assert.True(RunUntil(desk, () => added.Faults is not null && added.PassedBy is not null));
            fault = added.PassedBy!;
            Assert.StartsWith("1 fault, ", added.Faults, StringComparison.Ordinal);
            Assert.EndsWith($" frames without it; it {fault}", added.Faults, StringComparison.Ordinal);

            // It is the same however many songs were played since.
            desk.ShowSong(1);
            Assert.True(RunUntil(desk, () => desk.Player.Look().Song == "High Tide"));
            Assert.Equal(1, Assert.Single(desk.Player.Outside).Faults);
            Assert.Empty(FaultLog.Load(files.Places));
        }

        ProcessorFaults kept = FaultLog.Load(files.Places)["hostile-throws"];
        Assert.Equal((1L, fault), (kept.Faults, kept.LastFault!));
        Assert.True(kept.FramesLost > 0);
    }

    [Fact]
    public void OneThatGoesAgainAfterItHasComeIsToldAgain()
    {
        using (AlbumDesk before = Open(OutsideFiles.Catalogue(OutsideFiles.Maker("Tilt", "outside-tilt"))))
        {
            before.Select(before.Stems[0].Place);
            Assert.Null(before.Chain.Add("outside-tilt"));
        }

        files.Put("Tilt");
        ProcessorHost host = files.Open();
        using ProcessorWatch watch = new(files.Places, host);
        using AlbumDesk desk = Open(host.Catalogue);
        desk.ProcessorWatch = watch;
        desk.Select(desk.Stems[0].Place);
        Assert.True(RunUntil(desk, () => desk.Chain.Processors[^1].PassedBy is not null));
        Assert.Empty(Troubles(desk));
        files.TrustAll();
        Assert.True(RunUntil(desk, () => desk.Catalogue.Find("outside-tilt") is not null && desk.Chain.Processors[^1].PassedBy is null));
        Assert.Null(desk.Outside.Forget(desk.Outside.Files.Single()));
        Assert.True(RunUntil(desk, () => Troubles(desk).Length > 0));
        Assert.StartsWith("Bass: the processor 'outside-tilt' is not here", Assert.Single(Troubles(desk)), StringComparison.Ordinal);
    }

    [Fact]
    public void AFaultIsToldInTheSongWhereItHappenedAndInNoOther()
    {
        using AlbumDesk desk = Open(OutsideFiles.Catalogue(OutsideFiles.Maker("Hostile", "hostile-loud")));
        desk.ShowSong(1);
        // Of so little it makes nothing too loud.
        Chain quiet = Chain.Empty with { Slots = [TestSong.Slot("gain", ("gainDb", -60)), TestSong.Slot("hostile-loud")] };
        Assert.Null(desk.EditSong(song => song with { Stems = song.Stems.SetItem(0, song.Stems[0] with { Chain = quiet }) }));
        Assert.True(RunUntil(desk, () => desk.Player.Look().Song == "High Tide"));
        desk.ShowSong(0);
        Assert.True(RunUntil(desk, () => desk.Player.Look().Song == "Low Tide"));
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("hostile-loud"));
        ProcessorModel faulty = desk.Chain.Selected!;
        desk.Transport.SetLoop(0, 1);
        desk.Transport.Play();
        Assert.True(RunUntil(desk, () => faulty.Faults is not null));
        Assert.StartsWith("1 fault, ", faulty.Faults, StringComparison.Ordinal);

        desk.Transport.Stop();
        desk.ShowSong(1);
        desk.Select(desk.Stems[0].Place);
        Assert.True(RunUntil(desk, () => desk.Player.Look().Song == "High Tide"));
        for (int look = 0; look < 2; look++)
        {
            IReadOnlyList<OutsideUse> before = desk.OutsideUses;
            Assert.True(RunUntil(desk, () => !ReferenceEquals(before, desk.OutsideUses)));
        }

        Assert.Null(desk.Chain.Processors.Single(each => each.Slot.Processor == "hostile-loud").Faults);
        Assert.Equal(("Low Tide", "Bass", 1L), Assert.Single(desk.OutsideUses.Where(use => use.Faults > 0).Select(use => (use.Song, use.Place, use.Faults))));

        desk.ShowSong(0);
        desk.Select(desk.Stems[0].Place);
        Assert.True(RunUntil(desk, () => desk.Chain.Processors.Single(each => each.Slot.Processor == "hostile-loud").Faults is not null));
    }

    [Fact]
    public void FaultsOfEarlierPlansGoWithTheSongToItsNewTitle()
    {
        using AlbumDesk desk = Open(OutsideFiles.Catalogue(OutsideFiles.Maker("Hostile", "hostile-throws")));
        desk.Select(desk.Stems[0].Place);
        Assert.Null(desk.Chain.Add("hostile-throws"));
        TapPlace faulty = desk.Selection;
        desk.Transport.SetLoop(0, 1);
        desk.Transport.Play();
        Assert.True(RunUntil(desk, () => FaultsIn(desk, "Low Tide") > 0));

        // Another plan, in which it does nothing: what it has done stands with the plans before.
        Assert.Null(desk.Chain.Selected!.Remove());
        Assert.True(RunUntil(desk, () => desk.Player.Running(faulty) is null));
        long faults = FaultsIn(desk, "Low Tide");
        Assert.True(faults > 0);
        Assert.Null(desk.EditSong(song => song with { Title = "Ebb Tide" }));
        Assert.True(RunUntil(desk, () => FaultsIn(desk, "Ebb Tide") == faults && FaultsIn(desk, "Low Tide") == 0));
        Assert.NotNull(desk.Undo());
        Assert.True(RunUntil(desk, () => FaultsIn(desk, "Low Tide") == faults && FaultsIn(desk, "Ebb Tide") == 0));
    }

    private static long FaultsIn(AlbumDesk desk, string song) => desk.OutsideUses.Where(use => use.Song == song).Sum(use => use.Faults);

    private AlbumDesk Open(ProcessorCatalogue catalogue)
    {
        AlbumDesk desk = album.Open(catalogue);
        album.Run(desk, 0.3);
        return desk;
    }

    private static string[] Troubles(AlbumDesk desk) => [.. desk.Messages.Where(message => message.Kind == MessageKind.Trouble).Select(message => message.Text)];

    // No faster than music: code of others is rendered on a thread of its own.
    private bool RunUntil(AlbumDesk desk, Func<bool> holds)
    {
        for (int turn = 0; turn < 600 && !holds(); turn++)
        {
            album.Run(desk, 0.02);
            Thread.Sleep(15);
        }

        return holds();
    }
}
