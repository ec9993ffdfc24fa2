using System.Collections.Concurrent;
using System.Runtime.ExceptionServices;
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

    /// <summary>Writes every stem, rough mixes and notes; files that are there already are written anew.</summary>
    /// <exception cref="Files.AudioFileException">A sound file cannot be written.</exception>
    /// <exception cref="IOException">A folder or the notes cannot be written.</exception>
    /// <exception cref="OperationCanceledException">Cancelled; what has been written stays.</exception>
    public static void WriteStems(string folder, IProgress<DemoProgress>? progress, CancellationToken cancellation)
    {
        int total = DemoAlbum.Songs.Sum(song => song.Stems.Count + 1);
        int done = 0;
        for (int index = 0; index < DemoAlbum.Songs.Count; index++)
        {
            string songFolder = Path.Combine(folder, FolderName(index));
            Directory.CreateDirectory(songFolder);
            WriteSong(DemoAlbum.Songs[index], songFolder, Report, cancellation);
        }

        File.WriteAllText(Path.Combine(folder, NotesName), DemoNotes.Text());

        void Report(string path) =>
            progress?.Report(new DemoProgress(Interlocked.Increment(ref done), total, Path.GetRelativePath(folder, path)));
    }

    private static void WriteSong(DemoSong song, string folder, Action<string> report, CancellationToken cancellation)
    {
        var rough = new RoughMix(song.Frames);
        var options = new ParallelOptions { MaxDegreeOfParallelism = Workers, CancellationToken = cancellation };

        // One stem at a time to each worker: voices take four times as long as a bass.
        OrderablePartitioner<DemoStem> oneByOne = Partitioner.Create(song.Stems, EnumerablePartitionerOptions.NoBuffering);
        try
        {
            Parallel.ForEach(oneByOne, options, stem =>
            {
                float[][] channels = stem.Render();
                rough.Add(channels);
                string path = Path.Combine(folder, stem.FileName);
                Write(path, song.SampleRate, channels);
                report(path);
            });
        }
        catch (AggregateException several)
        {
            // Whoever calls wants the fault itself; when two files fail at once, one tells enough.
            ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
        }

        string roughPath = Path.Combine(folder, RoughMixName);
        Write(roughPath, song.SampleRate, rough.Finish());
        report(roughPath);
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
