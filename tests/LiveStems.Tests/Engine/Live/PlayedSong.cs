using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Files.Reading;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Tests.Engine.Live;

/// <summary>A player on a device that the test drives, with a song of its own.</summary>
internal sealed class PlayedSong : IDisposable
{
    public const int SampleRate = TestSong.SampleRate;

    private const int Turn = SampleRate / 100;

    public PlayedSong(int bufferFrames = 64) => Device = new ManualDevice(SampleRate, bufferFrames);

    public TestSong Files { get; } = new();

    public ManualDevice Device { get; }

    public LivePlayer Player { get; private set; } = null!;

    public List<string> Troubles { get; } = [];

    public Song Song => Files.Song;

    /// <summary>Loads the song, undimmed and stopped.</summary>
    public void Start(ProcessorCatalogue? catalogue = null, TimeProvider? clock = null, Func<string, IAudioReader>? open = null)
    {
        Open(catalogue, clock, open);
        Run(0.3);
    }

    /// <summary>As <see cref="Start"/>, but nothing has run yet.</summary>
    public void Open(ProcessorCatalogue? catalogue = null, TimeProvider? clock = null, Func<string, IAudioReader>? open = null)
    {
        Player = new LivePlayer(Device, catalogue ?? BuiltInProcessors.Catalogue, null, clock ?? TimeProvider.System, open ?? AudioFile.Open);
        Player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        Player.Show(Song, Files.Folder);
    }

    /// <summary>Plays on in turns of 10 ms, at ten times the speed of music at most, so that files can be read as they are by day.</summary>
    public void Run(double seconds)
    {
        for (int turn = 0; turn < Math.Round(seconds * SampleRate / Turn); turn++)
        {
            Device.Run(Turn);
            Troubles.AddRange(Player.Update());
            Thread.Sleep(1);
        }
    }

    /// <summary>Plays on until something holds; false when it never did within ten seconds.</summary>
    public bool RunUntil(Func<bool> holds)
    {
        for (int turn = 0; turn < 1000 && !holds(); turn++)
        {
            Run(0.01);
        }

        return holds();
    }

    /// <summary>Forgets what was heard so far.</summary>
    public void Forget()
    {
        Device.Left.Clear();
        Device.Right.Clear();
    }

    public float LoudestOfLast(double seconds) => Device.Left.Skip(Device.Left.Count - (int)(seconds * SampleRate)).Max(MathF.Abs);

    public void Dispose()
    {
        Player?.Dispose();
        Files.Dispose();
    }
}
