using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Devices;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Engine.Live;
using LiveStems.Tests.Signals;
using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

/// <summary>An album of two short songs on disk, and a desk with a device that plays when it is told to.</summary>
internal sealed class DeskAlbum : IDisposable
{
    public const int SampleRate = TestSong.SampleRate;

    private readonly TestSong stems = new();

    public DeskAlbum(bool hasLimiter = true)
    {
        float[] bass = Tone(110, 0.2f);
        float[] voice = Noise.White(2 * SampleRate, 7, 0.1f);
        stems.AddStem("Bass", bass, bass, stem => stem with
        {
            Role = StemRole.Bass,
            Chain = TestSong.Chain(TestSong.Slot("equaliser"), TestSong.Slot("compressor", ("thresholdDb", -40), ("ratio", 4))),
        });
        stems.AddStem("Lead voice", voice, voice, stem => stem with { Role = StemRole.LeadVocal, Parallels = [TestSong.ParallelPath(true, -6)] });
        Chain bus = hasLimiter ? TestSong.Chain(TestSong.Slot("limiter")) : Chain.Empty;
        Song first = stems.Song with { Title = "Low Tide", Bus = bus };
        Song second = first with { Title = "High Tide" };
        Album album = new("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [first, second], []);
        AlbumFile.Save(album, Folder, BuiltInProcessors.Catalogue);
    }

    public string Folder => stems.Folder;

    public ManualDevice Device { get; } = new(SampleRate, 256);

    public static float[] Tone(double frequencyHz, float level, int frames = 2 * SampleRate) =>
        [.. Enumerable.Range(0, frames).Select(i => (float)(level * Math.Sin(2 * Math.PI * frequencyHz * i / SampleRate)))];

    public AlbumDesk Open() => AlbumDesk.Open(Folder, BuiltInProcessors.Catalogue, Device);

    public AlbumDesk Open(ProcessorCatalogue catalogue) => AlbumDesk.Open(Folder, catalogue, Device);

    public AlbumDesk OpenOn(IAudioDevice device) => AlbumDesk.Open(Folder, BuiltInProcessors.Catalogue, device);

    /// <summary>Lets the device and the desk run for some time of the music.</summary>
    public void Run(AlbumDesk desk, double seconds)
    {
        const int Frames = 800;
        for (int done = 0; done < seconds * SampleRate; done += Frames)
        {
            Device.Run(Frames);
            desk.Update();
        }
    }

    /// <summary>Lets the song play, around its end, until both sides of the comparison can be made equally loud.</summary>
    public void PlayUntilFair(AlbumDesk desk)
    {
        desk.Transport.SetLoop(0, desk.Transport.LengthSeconds);
        desk.Transport.Play();
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                Run(desk, 0.1);
                Thread.Sleep(2);
                return desk.Compare is { IsReady: true, Fair.IsMeasured: true };
            },
            TimeSpan.FromSeconds(30)));
    }

    public Album OnDisk() => AlbumFile.Load(Folder, BuiltInProcessors.Catalogue);

    public void Dispose() => stems.Dispose();
}
