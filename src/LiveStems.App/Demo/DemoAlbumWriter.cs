using LiveStems.App.Demo.Mixing;
using LiveStems.Files.Writing;

namespace LiveStems.App.Demo;

/// <summary>How far the writing has come.</summary>
/// <param name="Done">Files written.</param>
/// <param name="Total">Files in all.</param>
/// <param name="File">The file just written, below the album's folder.</param>
internal readonly record struct DemoProgress(int Done, int Total, string File);

/// <summary>Writes the sound of the demo album: a folder a song, 24-bit stems, a rough mix, and notes in plain words.</summary>
internal static class DemoAlbumWriter
{
    public const string RoughMixName = "Rough mix.wav";
    public const string NotesName = "Notes.txt";
    private const int Bits = 24;

    // Two stems at a time bound the memory to what two songs' worth of stereo tracks take.
    private const int Workers = 2;

    /// <summary>"01 Lamps Along the Mole".</summary>
    public static string FolderName(int songIndex) => $"{songIndex + 1:00} {DemoAlbum.Songs[songIndex].Title}";

    /// <summary>Writes every stem and rough mix; files that are there already are written anew.</summary>
    /// <exception cref="Files.AudioFileException">A file cannot be written.</exception>
    /// <exception cref="OperationCanceledException">Cancelled; what has been written stays.</exception>
    public static void WriteStems(string folder, IProgress<DemoProgress>? progress, CancellationToken cancellation)
    {
        IReadOnlyList<DemoSong> songs = DemoAlbum.Songs;
        int total = songs.Sum(song => song.Stems.Count + 1);
        int done = 0;
        void Report(string file) => progress?.Report(new DemoProgress(Interlocked.Increment(ref done), total, file));

        for (int index = 0; index < songs.Count; index++)
        {
            DemoSong song = songs[index];
            string songFolder = Path.Combine(folder, FolderName(index));
            Directory.CreateDirectory(songFolder);
            var rough = new RoughMix(song.Frames);
            var options = new ParallelOptions { MaxDegreeOfParallelism = Workers, CancellationToken = cancellation };
            Parallel.ForEach(song.Stems, options, stem =>
            {
                float[][] channels = stem.Render();
                rough.Add(channels);
                string path = Path.Combine(songFolder, stem.FileName);
                Write(path, song.SampleRate, channels);
                Report(Path.GetRelativePath(folder, path));
            });
            string roughPath = Path.Combine(songFolder, RoughMixName);
            Write(roughPath, song.SampleRate, rough.Finish());
            Report(Path.GetRelativePath(folder, roughPath));
        }

        File.WriteAllText(Path.Combine(folder, NotesName), DemoNotes.Text());
    }

    private static void Write(string path, int sampleRate, float[][] channels)
    {
        using var writer = new WavWriter(path, new WavFormat(sampleRate, Bits, Channels: channels.Length));
        if (channels.Length == 1)
        {
            writer.Write(channels[0]);
        }
        else
        {
            writer.Write(channels[0], channels[1]);
        }

        writer.Complete();
    }
}
