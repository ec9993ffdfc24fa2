using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Bench.Scenarios;
using LiveStems.Engine.Devices;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Albums;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class SoakTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void AnythingAtAllMayBeDoneAndIsSaved(int seed)
    {
        Album before;
        using (AlbumDesk desk = album.Open())
        {
            album.Run(desk, 0.1);
            RandomHands hands = new(desk, seed);
            for (int i = 0; i < 250; i++)
            {
                hands.DoOne();
                album.Run(desk, 0.03);
            }

            before = desk.Album;
            Assert.Equal(0, album.Device.Statistics.Faults);
            Assert.DoesNotContain(desk.Messages, message => message.Text.Contains("failed", StringComparison.Ordinal));
        }

        Assert.Equal(Spelt.Out(before), Spelt.Out(album.OnDisk()));
    }

    [Fact]
    public void AnythingAtAllIsUndoneToTheStart()
    {
        Album start;
        using (AlbumDesk desk = album.Open())
        {
            start = desk.Album;
            RandomHands hands = new(desk, 3);
            for (int i = 0; i < 120; i++)
            {
                hands.DoOne();
            }
        }

        using AlbumSession session = AlbumSession.Open(album.Folder, BuiltInProcessors.Catalogue);
        while (session.Undo())
        {
        }

        Assert.Equal(Spelt.Out(start), Spelt.Out(session.Album));
    }

    [Fact]
    public void TheSilentDeviceNeverFaultsUnderRandomHands()
    {
        using SilentDevice device = new(new DeviceSettings(DeskAlbum.SampleRate, 256));
        using AlbumDesk desk = album.OpenOn(device);
        RandomHands hands = new(desk, 4);
        desk.Transport.Play();
        for (int i = 0; i < 80; i++)
        {
            hands.DoOne();
            desk.Update();
            Thread.Sleep(12);
        }

        Assert.Equal(0, device.Statistics.Faults);
        Assert.True(device.Statistics.Calls > 0);
    }
}
