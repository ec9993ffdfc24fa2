using LiveStems.Engine.Live;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public sealed class SpectrumTests : IDisposable
{
    private readonly DeskAlbum album = new();

    public void Dispose() => album.Dispose();

    [Fact]
    public void InputAndOutputOfTheSelectedChainAreSeen()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(TapPlace.OfStem(0));
        album.Run(desk, 0.1);
        desk.Transport.Play();
        Play(desk, 1.6);
        SpectrumFrame frame = desk.Spectrum.Frame;
        int tone = SpectrumModel.PointOf(110);
        int octaveUp = SpectrumModel.PointOf(1000);

        // A sine of amplitude 0.2 is at −13.98 dBFS; the compressor takes it down by about 19 dB.
        Assert.Equal(-14, frame.Input.Live.Skip(tone - 2).Take(5).Max(), 1.5);
        Assert.InRange(frame.Output.Live.Skip(tone - 2).Take(5).Max(), -36, -30);
        Assert.True(frame.Input.Live[octaveUp] < -70);
        Assert.True(frame.Input.High[tone] >= frame.Input.Low[tone]);
    }

    [Fact]
    public void SelectingAnotherChainShowsThatOne()
    {
        using AlbumDesk desk = album.Open();
        desk.Select(TapPlace.OfStem(0));
        album.Run(desk, 0.1);
        desk.Transport.Play();
        Play(desk, 0.5);
        desk.Select(TapPlace.OfStem(1));
        Play(desk, 1);
        int high = SpectrumModel.PointOf(5000);
        Assert.True(desk.Spectrum.Frame.Output.Live[high] > -60);
    }

    [Fact]
    public void AFrozenPictureStandsStill()
    {
        using AlbumDesk desk = album.Open();
        album.Run(desk, 0.1);
        desk.Spectrum.IsFrozen = true;
        long number = desk.Spectrum.Frame.Number;
        Play(desk, 0.3);
        Assert.Equal(number, desk.Spectrum.Frame.Number);
    }

    [Theory]
    [InlineData(0, 1000, 0)]
    [InlineData(3, 2000, 3)]
    [InlineData(4.5, 250, -9)]
    public void TiltTurnsThePictureAroundOneKilohertz(double tilt, double frequencyHz, double added)
    {
        using AlbumDesk desk = album.Open();
        desk.Spectrum.TiltDbPerOctave = tilt;

        // A point is a 24th of an octave wide, and so half of that off at most.
        Assert.Equal(-50 + added, desk.Spectrum.Tilted(-50, SpectrumModel.PointOf(frequencyHz)), (tilt / 48) + 1e-9);
    }

    [Fact]
    public void ABuffersNewestWholeOneIsRead()
    {
        TripleBuffer<int[]> buffer = new(() => new int[1]);
        for (int i = 1; i <= 5; i++)
        {
            buffer.Next[0] = i;
            buffer.Publish();
        }

        Assert.Equal(5, buffer.Latest()[0]);
        Assert.Same(buffer.Latest(), buffer.Latest());
    }

    // In steps that the analysis can follow, as in real time.
    private void Play(AlbumDesk desk, double seconds)
    {
        for (double done = 0; done < seconds; done += 0.1)
        {
            album.Run(desk, 0.1);
            Assert.True(SpinWait.SpinUntil(() => desk.Player.Taps.Output.Available == 0, TimeSpan.FromSeconds(30)));
        }

        Thread.Sleep(20);
        desk.Update();
    }
}
