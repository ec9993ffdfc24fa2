using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.App.Playing;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Engine.Live;
using LiveStems.Tests.Signals;

namespace LiveStems.Tests.App.Playing;

/// <summary>An album of three songs on disk, the first of them playing in the terminal's player on a device that the test drives.</summary>
internal sealed class PlayedAlbum : IDisposable
{
    public const int SampleRate = TestSong.SampleRate;
    public const int Frames = 4 * SampleRate;

    private const int Turn = SampleRate / 100;

    private readonly TestSong files = new();

    public PlayedAlbum(int bufferFrames = 64, ProcessorCatalogue? processors = null, string? inSecondSong = null)
    {
        ProcessorCatalogue catalogue = processors ?? BuiltInProcessors.Catalogue;
        files.AddStem("Bass", Bass, Bass, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("equaliser"), TestSong.Slot("compressor")) });
        files.AddStem("Lead voice", Voice, Voice);
        Stem[] first = [.. files.Song.Stems];
        files.AddStem("Second bass", Bass, Bass);
        files.AddStem("Third bass", Bass, Bass);
        Stem[] others = [.. files.Song.Stems.Skip(2)];
        Songs =
        [
            files.Song with { Title = "Low Tide", Stems = [.. first], Bus = TestSong.Chain(TestSong.Slot("limiter")) },
            files.Song with { Title = "High Tide", Stems = [inSecondSong is null ? others[0] : others[0] with { Chain = TestSong.Chain(TestSong.Slot(inSecondSong)) }] },
            files.Song with { Title = "Foghorn", Stems = [others[1]] },
        ];
        AlbumFile.Save(new Album("Slack Water Letters", "The Kelp Ledger", DeliveryTargets.Usual, [.. Songs], []), Folder, catalogue);
        Device = new ManualDevice(SampleRate, bufferFrames);
        Player = new LivePlayer(Device, catalogue);
        MonitorSettings monitor = MonitorSettings.AtStart with { IsDimmed = false };
        Player.SetMonitor(monitor);
        Player.Show(Songs[0], Folder);
        Controls = new PlayControls(Player, Songs, 0, Folder, monitor, new SongMarkers(Folder), new PlayComparing(null, true, [], 10));
        Keys = new PlayKeys(Controls, Player);
        Run(0.3);
        Player.Play();
        Run(0.1);
    }

    public static float[] Bass { get; } = Noise.White(Frames, 21, 0.05f);

    public static float[] Voice { get; } = Noise.White(Frames, 22, 0.05f);

    public string Folder => files.Folder;

    public Song[] Songs { get; }

    public ManualDevice Device { get; }

    public LivePlayer Player { get; }

    public PlayControls Controls { get; }

    public PlayKeys Keys { get; }

    public List<string> News { get; } = [];

    public void Press(char key) => Press(new ConsoleKeyInfo(key, default, false, false, false));

    public void Press(ConsoleKey key) => Press(new ConsoleKeyInfo('\0', key, false, false, false));

    /// <summary>Plays on, in turns of 10 ms.</summary>
    public void Run(double seconds)
    {
        for (int turn = 0; turn < Math.Round(seconds * SampleRate / Turn); turn++)
        {
            Device.Run(Turn);
            Controls.Update();
            News.AddRange(Controls.TakeNews());
            Thread.Sleep(1);
        }
    }

    public void Delete(string stem) => File.Delete(Path.Combine(Folder, stem + ".wav"));

    public Album OnDisk() => AlbumFile.Load(Folder, BuiltInProcessors.Catalogue);

    public void Dispose()
    {
        Player.Dispose();
        files.Dispose();
    }

    private void Press(ConsoleKeyInfo key)
    {
        if (!Keys.Press(key))
        {
            throw new ArgumentException($"'{key.KeyChar}' {key.Key} is no key of the player");
        }
    }
}
