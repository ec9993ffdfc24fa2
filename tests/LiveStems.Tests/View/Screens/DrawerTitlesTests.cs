using LiveStems.Albums.Model;
using LiveStems.Engine.Devices;
using LiveStems.Tests.Engine.Devices;
using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using LiveStems.View.Screens.Drawers;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class DrawerTitlesTests : DrawerTest
{
    [Fact]
    public void TitlesCodeAndRateAreChangedWhereTheyStand()
    {
        Type("F7");
        Enter("Spring Tide");
        Assert.Equal("Spring Tide", Desk.Song.Title);
        Act("recording code (ISRC)");
        Enter("AA-6Q7-26-00001");
        Assert.Equal("AA6Q72600001", Desk.Song.Isrc);
        Act("sample rate");
        Enter("much");
        Assert.Contains("sample rate", Drawer.Page.Entry!.Hint(), StringComparison.Ordinal);
        Enter("48 kHz");
        Assert.Equal(48_000, Desk.Song.SampleRate);
        Frame();
        Assert.Contains(Drawer.List.Lines, line => line.Words == "AA-6Q7-26-00001");
        Assert.Null(Line("recording code (ISRC)").Remove!());
        Assert.Equal(string.Empty, Desk.Song.Isrc);
        Act("artist");
        Assert.Equal("The Kelp Ledger", Entry.Text);
        Enter("The Kelp Ledger, live");
        Assert.Equal("The Kelp Ledger, live", Desk.Album.Artist);
    }

    [Fact]
    public void WhatWasTypedForOneSongIsNotTakenForAnotherUnasked()
    {
        Type("F7");
        Act("recording code (ISRC)");
        Host.SetFocus(Entry);
        Host.TextTyped("AA-6Q7-26-00001");
        Desk.ShowSong(1);
        Frame();
        Host.SetFocus(Entry);
        Type("Enter");
        Assert.Equal(string.Empty, Desk.Song.Isrc);
        Assert.Equal("that was typed for Low Tide: Enter again takes it for High Tide", Desk.Messages[^1].Text);
        Type("Enter");
        Assert.Equal("AA6Q72600001", Desk.Song.Isrc);
        Assert.Equal(string.Empty, Desk.Album.Songs[0].Isrc);
    }

    [Fact]
    public void TheRoughMixIsChosenAmongTheFiles()
    {
        Type("F7");
        Act("rough mix");
        Assert.Single(Host.Overlays);
        Host.TextTyped("Bass.wav");
        Host.KeyPressed(Key.Enter, Modifiers.None, false);
        Frame();
        Assert.Empty(Host.Overlays);
        Assert.Equal("Bass.wav", Path.GetFileName(Desk.Song.RoughMix));
        Assert.Null(Line("rough mix").Remove!());
        Assert.Null(Desk.Song.RoughMix);
    }

    [Fact]
    public void TargetsAreTypedBelowAndSaidAbove()
    {
        Type("F7");
        Assert.Equal("the album's targets", Line("aims at").Words);
        ValueBox box = Drawer.Everything().OfType<ValueBox>().Single(each => each.Value.Name == "Song loudness");
        Assert.Null(box.Value.SetText("-12 LUFS"));
        Frame();
        Assert.Equal("targets of its own", Line("aims at").Words);
        Act("aims at");
        Assert.Null(Desk.Song.Targets);
    }

    [Fact]
    public void SongsGoOutOfTheAlbumByDeleteOrAButton()
    {
        Type("F2");
        ChooseFirst();
        Host.KeyPressed(Key.Delete, Modifiers.None, false);
        Frame();
        Assert.Equal("High Tide", Assert.Single(Desk.Album.Songs).Title);
        Type("F7");
        Press("take the song out");
        Assert.Contains("needs a song", Desk.Messages[^1].Text, StringComparison.Ordinal);
        Desk.Undo();
        Press("take the song out");
        Assert.Equal("Low Tide", Assert.Single(Desk.Album.Songs).Title);
    }

    [Fact]
    public void TheStemGoesOutOfTheSongByAButton()
    {
        Desk.Select(Desk.Stems[0].Place);
        Type("F6");
        Press("take the stem out");
        Assert.Equal("Lead voice", Assert.Single(Desk.Stems).Name);
    }

    [Fact]
    public void MarkersStandAmongTheNotesAndAreChangedAndTakenAway()
    {
        Desk.Edit(album => album with { Songs = album.Songs.SetItem(0, album.Songs[0] with { Markers = [new Marker("Verse", 0.404), new Marker("Chorus", 1.2)] }) });
        Type("7");
        First();
        Press("change");
        Assert.Equal("0:00.4 Verse", Entry.Text);
        Enter("0:00.4 First verse");
        // Its place was left as it stood.
        Assert.Equal(new Marker("First verse", 0.404), Desk.Song.Markers[0]);
        First();
        Press("change");
        Enter("0:01.5 First verse");
        Assert.Equal(1.5, Desk.Song.Markers[0].AtSeconds);
        First();
        Press("change");
        Enter("no time");
        Assert.Equal("First verse", Desk.Song.Markers[0].Name);
        Press("leave it");
        First();
        Host.KeyPressed(Key.Delete, Modifiers.None, false);
        Assert.Equal("First verse", Assert.Single(Desk.Song.Markers).Name);
    }

    [Theory]
    [InlineData("isrc", "change-recordingcode")]
    [InlineData("another artist", "change-artist")]
    [InlineData("rough mix", "compare-roughmix")]
    [InlineData("sound device", "drawer-devices")]
    [InlineData("ceiling", "song-targets")]
    [InlineData("plr", "drawer-titles")]
    [InlineData("stem out", "stem-remove")]
    [InlineData("song out", "song-remove")]
    [InlineData("silent", "device-silent")]
    public void TheCommandSearchFindsWhatIsNew(string typed, string id) => Assert.Contains(id, Desk.Commands.Search(typed).Take(3).Select(command => command.Id));

    [Fact]
    public void TheWindowKnowsTheKeyOfEveryCommand()
    {
        HashSet<string> known = [.. Enum.GetValues<Key>().Select(KeyNames.Of)];
        // One sign is typed, whatever key it stands on.
        Assert.All(Desk.Commands.All.SelectMany(command => command.Keys).Where(chord => chord.Key.Length > 1), chord => Assert.Contains(chord.Key, known));
    }

    [Fact]
    public void ACommandAsksForATitleAtOnce()
    {
        Assert.Null(Desk.Commands.Find("change-artist")!.Run());
        Frame();
        Assert.Equal("titles", Drawer.Page.Id);
        Assert.Equal("The Kelp Ledger", Entry.Text);
        Assert.Null(Desk.Commands.Find("change-roughmix")!.Run());
        Assert.Single(Host.Overlays);
    }

    [Fact]
    public void AlternatesNamesOriginatorAndDateOfADeliveryAreTyped()
    {
        Type("8");
        Assert.Contains(Drawer.List.Lines, line => line.Words == "vocal up 1.5 dB");
        ValueBox up = Drawer.Everything().OfType<ValueBox>().Single(each => each.Value.Name == "Vocal up by");
        Assert.Null(up.Value.SetText("2.5 dB"));
        Frame();
        DrawerLine louder = Drawer.List.Lines.Single(line => line.Words == "vocal up 2.5 dB");
        Assert.Null(louder.Act!());
        Assert.Null(Drawer.List.Lines.Single(line => line.Words.StartsWith("another one", StringComparison.Ordinal)).Act!());
        Frame();
        Enter("Attic");
        Assert.Contains("no stem", Desk.Messages[^1].Text, StringComparison.Ordinal);
        Enter("Bass");
        Assert.True(Drawer.List.Lines.Single(line => line.Words == "without Bass").IsOn);
        Act("names");
        Enter("{order} {ti}");
        Assert.Contains("no such field", Desk.Messages[^1].Text, StringComparison.Ordinal);
        Enter("{order} {title} {version} {format}");
        Act("originator");
        Enter("The room by the harbour of the trio");
        Assert.Contains("32", Desk.Messages[^1].Text, StringComparison.Ordinal);
        Enter("Harbour room");
        Act("date");
        Enter("2026-03-01");
        Press("deliver");
        Wait(() => Desk.Work.Delivered is not null);
        string[] files = [.. Desk.Work.Delivered!.Files.Select(file => Path.GetFileNameWithoutExtension(file.Name)).Order(StringComparer.Ordinal)];
        Assert.Equal(
            [
                "01 Low Tide master archive", "01 Low Tide vocal up 2.5 dB archive", "01 Low Tide without Bass archive",
                "02 High Tide master archive", "02 High Tide vocal up 2.5 dB archive", "02 High Tide without Bass archive",
            ],
            files);
    }

    [Fact]
    public void ADeviceIsChosenFromTheList()
    {
        ListedDevices system = new();
        using DeskAlbum album = new();
        using DeviceKeeper keeper = new(null, new DeviceSettings(DeskAlbum.SampleRate, 256), system, TimeProvider.System);
        using AlbumDesk desk = album.OpenOn(keeper);
        MainScreen screen = new(desk, WindowState.AtFirst);
        double seconds = 0;
        ControlHost host = new(screen.Root, screen, new FixedRuler(), () => seconds);
        screen.Attach(host);
        host.SetSize(1280, 800, 1);
        screen.OpenDrawer("devices");
        Look(() => screen.Drawer.List.Lines.Any(line => line.Words == "Headphones"));
        Assert.Equal(["ALSA", "without sound", "asked for at a time"], screen.Drawer.List.Lines.Where(line => line.IsHeading).Select(line => line.Words));
        Assert.True(Of("whatever the system plays to").IsOn);
        Assert.Equal("44.1 kHz", Of("Headphones").Aside);
        Assert.Null(Of("Headphones").Act!());
        Look(() => Of("Headphones").IsOn == true);
        Assert.StartsWith(keeper.Message, screen.Drawer.Page.Explanation, StringComparison.Ordinal);
        Assert.Null(Of("64 frames").Act!());
        Look(() => Of("64 frames").IsOn == true && keeper.BufferFrames == 64);
        Assert.Equal("1.3 ms", Of("64 frames").Aside);
        Assert.Null(screen.Drawer.Page.Entry!.Accept("300 frames"));
        Look(() => keeper.BufferFrames == 300);
        Assert.NotNull(screen.Drawer.Page.Entry!.Accept("9000"));
        Assert.Null(Of("silent").Act!());
        Look(() => Of("silent").IsOn == true && keeper.Description is null);

        DrawerLine Of(string words) => screen.Drawer.List.Lines.Single(line => line.Words == words);

        void Look(Func<bool> holds) => Assert.True(SpinWait.SpinUntil(
            () =>
            {
                seconds += 0.2;
                screen.Update(0.2);
                Thread.Sleep(2);
                return holds();
            },
            TimeSpan.FromSeconds(60)));
    }

    [Fact]
    public void AGivenDeviceIsOnlyNamed()
    {
        Type("F5");
        Assert.Empty(Drawer.List.Lines);
        Assert.StartsWith("test: 48000 Hz, 256 frames", Drawer.Page.Explanation, StringComparison.Ordinal);
    }

    private void First()
    {
        Host.SetFocus(Drawer.List);
        Host.KeyPressed(Key.Down, Modifiers.None, false);
        Host.KeyPressed(Key.Home, Modifiers.None, false);
        Frame();
    }

    private DrawerLine Line(string aside) => Drawer.List.Lines.First(line => line.Aside == aside);

    private void Act(string aside)
    {
        Assert.Null(Line(aside).Act!());
        Frame();
    }
}
