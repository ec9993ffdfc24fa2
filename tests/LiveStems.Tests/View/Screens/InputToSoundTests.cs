using LiveStems.Tests.View.Controls;
using LiveStems.Tests.View.Desk;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Screens;
using Xunit;

namespace LiveStems.Tests.View.Screens;

public sealed class InputToSoundTests
{
    private const int Buffer = 256;
    private const int BuffersBefore = 60;

    // The same album on two desks, sample by sample the same, until a key is pressed on one of them: one picture takes the
    // key in, and the very next buffer sounds otherwise. So no more than one picture and one buffer lie between.
    [Fact]
    public void AKeyIsHeardInTheBufferAfterThePictureThatTookIt()
    {
        using Played touched = new();
        using Played untouched = new();
        for (int i = 0; i < BuffersBefore; i++)
        {
            touched.Run();
            untouched.Run();
        }

        Assert.Equal(untouched.Latest, touched.Latest);
        Assert.Contains(touched.Latest, sample => sample != 0);
        touched.Press(Key.Down, Modifiers.Shift);
        touched.Run();
        untouched.Run();
        Assert.NotEqual(untouched.Latest, touched.Latest);
    }

    private sealed class Played : IDisposable
    {
        private readonly DeskAlbum album = new(hasLimiter: false);
        private readonly AlbumDesk desk;
        private readonly MainScreen screen;
        private readonly ControlHost host;

        public Played()
        {
            desk = album.Open();
            screen = new MainScreen(desk, WindowState.AtFirst);
            host = new ControlHost(screen.Root, screen, new FixedRuler(), () => 0);
            screen.Attach(host);
            host.SetSize(1280, 800, 1);
            desk.Select(desk.Stems[0].Place);
            // The whole of the short song is read ahead, so that no sample depends on the disk.
            desk.Transport.Play();
            album.Run(desk, 0.02);
            Thread.Sleep(300);
        }

        public float[] Latest => [.. album.Device.Left.TakeLast(Buffer)];

        public void Press(Key key, Modifiers modifiers) => host.KeyPressed(key, modifiers, false);

        public void Run()
        {
            screen.Update(1.0 / 60);
            album.Device.Run(Buffer);
        }

        public void Dispose()
        {
            desk.Dispose();
            album.Dispose();
        }
    }
}
