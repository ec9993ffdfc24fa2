using LiveStems.Albums.Model;
using LiveStems.Engine.Devices;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine.Live;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>What meters and rates do when another song comes.</summary>
public sealed class SongChangeTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void LoudnessOfTwoSongsIsNotMixed()
    {
        using AlbumDesk desk = album.Open();
        desk.Transport.Play();
        Measure(desk, 1, seconds => seconds > 0.8);
        desk.ShowSong(1);
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                album.Run(desk, 0.05);
                return desk.Player.Look().HeardSong == "High Tide";
            },
            TimeSpan.FromSeconds(30)));
        Measure(desk, 0.4, seconds => seconds is > 0.1 and < 0.7);
    }

    [Fact]
    public void OfTheWholeAlbumItIsOneMeasurement()
    {
        using AlbumDesk desk = album.Open();
        desk.ToggleWholeAlbum();
        desk.Transport.Play();
        Measure(desk, 1, seconds => seconds > 0.8);
        desk.ShowSong(1);
        Measure(desk, 0.5, seconds => seconds > 1.2);
    }

    [Fact]
    public void WhereNothingIsAimedAtThereIsAReferenceAndNoTarget()
    {
        using AlbumDesk desk = album.Open();
        Assert.StartsWith("target ", desk.Meters.ReferenceWords, StringComparison.Ordinal);
        Assert.Null(desk.Edit(each => each with { Targets = each.Targets with { IntegratedLufs = null } }));
        Assert.Equal("reference −23.0 LUFS", desk.Meters.ReferenceWords);
        desk.Transport.Play();
        Measure(desk, 0.5, seconds => seconds > 0.4);
        Assert.False(desk.Meters.IsOnTarget);
        double heard = Math.Round(desk.Meters.Readings.IntegratedLufs, 1);
        Assert.Null(desk.Edit(each => each with { Targets = each.Targets with { IntegratedLufs = heard } }));
        Assert.True(desk.Meters.IsOnTarget);
    }

    [Fact]
    public void ThatASongIsHeardAtAnotherRateIsSaidEachTimeThatItComes()
    {
        ManualDevice device = new(44_100, 256);
        using AlbumDesk desk = album.OpenOn(device);
        AssertTold("Low Tide");
        desk.ShowSong(1);
        AssertTold("High Tide");
        desk.ShowSong(0);
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                device.Run(256);
                desk.Update();
                return Converted().Length == 3;
            },
            TimeSpan.FromSeconds(30)));

        string[] Converted() => [.. desk.Messages.Select(message => message.Text).Where(text => text.Contains("converted", StringComparison.Ordinal))];

        void AssertTold(string song)
        {
            Assert.True(SpinWait.SpinUntil(
                () =>
                {
                    device.Run(256);
                    desk.Update();
                    return Converted().LastOrDefault() == $"{song}, Bass: converted from 48000 Hz to 44100 Hz, and 1 more stem";
                },
                TimeSpan.FromSeconds(30)));
            desk.Update();
            Assert.Single(Converted(), text => text.StartsWith(song, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void TheSoundRunsAtTheRateOfTheSongThatIsOpened()
    {
        using (AlbumDesk desk = album.Open())
        {
            Assert.Null(desk.Edit(each => each with { Songs = each.Songs.SetItem(1, each.Songs[1] with { SampleRate = 96_000 }) }));
        }

        foreach ((int song, int rate) in new[] { (0, 48_000), (1, 96_000) })
        {
            (IAudioDevice device, _) = DeskOpening.Device(album.Folder, BuiltInProcessors.Catalogue, AudioDevices.Silent, 256, _ => song);
            using (device)
            {
                Assert.Equal(rate, device.SampleRate);
            }
        }
    }

    // The analysis runs on its own thread: it is given the time to take everything in.
    private void Measure(AlbumDesk desk, double seconds, Func<double, bool> areMeasured)
    {
        album.Run(desk, seconds);
        Assert.True(
            SpinWait.SpinUntil(
                () =>
                {
                    desk.Update();
                    return areMeasured(desk.Meters.Readings.MeasuredSeconds);
                },
                TimeSpan.FromSeconds(30)),
            $"{desk.Meters.Readings.MeasuredSeconds}");
    }
}
