using System.Text;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp;
using LiveStems.Engine.Live;
using LiveStems.Engine.Offline;

namespace LiveStems.View.Desk;

/// <summary>Overviews of songs, kept in the user's cache under the digest of what the song sounds like.</summary>
internal static class LaneStore
{
    private const string Kind = "overviews";
    private const int Format = 1;
    private const long LargestBytes = 256L << 20;

    /// <summary>What is kept under a digest; null when nothing is, or it cannot be read.</summary>
    public static SongOverview? Load(string digest)
    {
        try
        {
            string path = PathOf(digest);
            if (!File.Exists(path))
            {
                return null;
            }

            using BinaryReader file = new(File.OpenRead(path), Encoding.UTF8);
            return file.ReadInt32() == Format ? Read(file) : null;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or FormatException or ArgumentException or OverflowException)
        {
            return null;
        }
    }

    /// <summary>Keeps an overview; where that cannot be, it is computed anew next time.</summary>
    public static void Save(string digest, SongOverview overview)
    {
        try
        {
            string path = PathOf(digest);
            string beside = $"{path}.{Environment.ProcessId}";
            using (BinaryWriter file = new(File.Create(beside), Encoding.UTF8))
            {
                file.Write(Format);
                Write(file, overview);
            }

            File.Move(beside, path, overwrite: true);
            CacheFolder.Prune(Path.GetDirectoryName(path)!, LargestBytes);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // The cache is a convenience.
        }
    }

    /// <summary>An overview as lanes in decibels.</summary>
    public static LaneSet ToLanes(SongOverview overview) => new(
        overview.ColumnSeconds,
        [.. overview.Paths.Select(path => new Lane(path.Place, path.Name, Db(path.InputPeak), Db(path.OutputPeak), Db(path.OutputRms), path.Reductions))]);

    private static float[] Db(float[] amplitudes) => [.. amplitudes.Select(amplitude => (float)Decibels.FromAmplitude(amplitude))];

    private static string PathOf(string digest) => Path.Combine(CacheFolder.For(Kind), digest + ".lanes");

    private static void Write(BinaryWriter file, SongOverview overview)
    {
        file.Write(overview.ColumnSeconds);
        file.Write(overview.Paths.Count);
        foreach (PathOverview path in overview.Paths)
        {
            file.Write(path.Place.Stem);
            file.Write(path.Place.Parallel);
            file.Write(path.Name);
            file.Write(path.OutputPeak.Length);
            WriteAll(file, path.InputPeak);
            WriteAll(file, path.OutputPeak);
            WriteAll(file, path.OutputRms);
            file.Write(path.Reductions.Count);
            foreach ((string slot, float[] reduction) in path.Reductions)
            {
                file.Write(slot);
                WriteAll(file, reduction);
            }
        }
    }

    private static SongOverview Read(BinaryReader file)
    {
        double columnSeconds = file.ReadDouble();
        PathOverview[] paths = new PathOverview[Count(file)];
        for (int i = 0; i < paths.Length; i++)
        {
            TapPlace place = new(file.ReadInt32(), file.ReadInt32(), null);
            string name = file.ReadString();
            int columns = Count(file);
            float[] inputPeak = ReadAll(file, columns);
            float[] outputPeak = ReadAll(file, columns);
            float[] outputRms = ReadAll(file, columns);
            Dictionary<string, float[]> reductions = new(StringComparer.Ordinal);
            for (int left = Count(file); left > 0; left--)
            {
                string slot = file.ReadString();
                reductions[slot] = ReadAll(file, columns);
            }

            paths[i] = new PathOverview(place, name, inputPeak, outputPeak, outputRms, reductions);
        }

        return new SongOverview(columnSeconds, paths);
    }

    // No file of ours is that long; a damaged one must not ask for the memory.
    private static int Count(BinaryReader file) => file.ReadInt32() is var count && count >= 0 && count <= file.BaseStream.Length
        ? count
        : throw new FormatException("a count is out of range");

    private static void WriteAll(BinaryWriter file, float[] values) => file.Write(System.Runtime.InteropServices.MemoryMarshal.AsBytes(values.AsSpan()));

    private static float[] ReadAll(BinaryReader file, int count)
    {
        float[] values = new float[count];
        file.BaseStream.ReadExactly(System.Runtime.InteropServices.MemoryMarshal.AsBytes(values.AsSpan()));
        return values;
    }
}
