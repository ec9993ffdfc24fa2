using LiveStems.App;
using LiveStems.Files.Writing;
using Xunit;

namespace LiveStems.Conformance.Window;

/// <summary>A folder with an album of tones for the window, settings of its own, and pictures that are kept.</summary>
internal sealed class WindowAlbum : IDisposable
{
    private const int SampleRate = 48_000;
    private const int Seconds = 20;

    private readonly string folder = Directory.CreateTempSubdirectory("livestems-window-").FullName;

    /// <summary>The album's folder.</summary>
    public string Album => In("Album");

    /// <summary>The folder for the program's settings.</summary>
    public string Settings => In("settings");

    /// <summary>A path in the folder.</summary>
    public string In(string name) => Path.Combine(folder, name);

    /// <summary>Imports a song of two stems for each title.</summary>
    public void Make(params string[] titles)
    {
        foreach (string title in titles)
        {
            string song = Directory.CreateDirectory(Path.Combine(In("Stems"), title)).FullName;
            WriteTone(Path.Combine(song, "Bass.wav"), 82.4);
            WriteTone(Path.Combine(song, "Lead voice.wav"), 440);
        }

        StringWriter errors = new();
        string[] songs = [.. titles.Select(title => Path.Combine(In("Stems"), title))];
        int exitCode = Program.Run(["import", .. songs, "--into", Album, "--title", "Slack Water Letters", "--artist", "The Kelp Ledger"], TextWriter.Null, errors, CancellationToken.None);
        Assert.True(exitCode == 0, errors.ToString());
    }

    public void Dispose()
    {
        KeepPictures();
        Directory.Delete(folder, recursive: true);
    }

    // For people to look at after the tests.
    private void KeepPictures()
    {
        DirectoryInfo root = new(AppContext.BaseDirectory);
        while (root.Parent is { } parent && !File.Exists(Path.Combine(root.FullName, "LiveStems.sln")))
        {
            root = parent;
        }

        string kept = Directory.CreateDirectory(Path.Combine(root.FullName, "artifacts", "window")).FullName;
        foreach (string picture in Directory.GetFiles(folder, "*.png"))
        {
            File.Copy(picture, Path.Combine(kept, Path.GetFileName(picture)), overwrite: true);
        }
    }

    private static void WriteTone(string path, double frequencyHz)
    {
        float[] tone = [.. Enumerable.Range(0, Seconds * SampleRate).Select(i => (float)(0.1 * Math.Sin(2 * Math.PI * frequencyHz * i / SampleRate)))];
        using WavWriter writer = new(path, new WavFormat(SampleRate, 24, IsFloat: false));
        writer.Write(tone, tone);
        writer.Complete();
    }
}
