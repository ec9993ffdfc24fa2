using LiveStems.Analysis.Delivery;
using LiveStems.Dsp;
using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Comparing;

/// <summary>What is measurably other in a song's master in one delivery than in another.</summary>
/// <param name="Song">Title of the song.</param>
/// <param name="Before">Its file in the earlier delivery; null when it was not in it.</param>
/// <param name="After">Its file in the later one; null when it is not in it.</param>
/// <param name="IsSameSound">True when every sample is the same.</param>
/// <param name="Changes">Where which bands changed by how much.</param>
public sealed record SongDifference(string Song, ManifestFile? Before, ManifestFile? After, bool IsSameSound, IReadOnlyList<BandChange> Changes)
{
    /// <summary>Seconds by which the music comes later in the later file; below 0 earlier, as when more was cut off its start. Both were laid over each other before they were compared.</summary>
    public double LaterSeconds { get; init; }

    /// <summary>Largest difference between samples laid over each other, in dBFS; −∞ for none, NaN where nothing was compared.</summary>
    public double LargestDifferenceDbfs { get; init; } = double.NaN;
}

/// <summary>Measures what is other between two deliveries.</summary>
public static class DeliveryDifference
{
    private const int FramesAtOnce = 16_384;

    /// <summary>Compares the masters of every song that is in one of both, in the earlier delivery's order.</summary>
    /// <param name="before">Folder of the earlier delivery.</param>
    /// <param name="after">Folder of the later one.</param>
    /// <param name="progress">Told the song and the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two stretches.</param>
    /// <exception cref="DeliveryException">A manifest does not read.</exception>
    /// <exception cref="Files.AudioFileException">A file does not read.</exception>
    public static IReadOnlyList<SongDifference> Measure(string before, string after, Action<string, double>? progress, CancellationToken cancellation)
    {
        ManifestFile[] was = [.. ManifestReading.Of(before).Where(file => file.Kind == "master")];
        ManifestFile[] now = [.. ManifestReading.Of(after).Where(file => file.Kind == "master")];
        string[] songs = [.. was.Concat(now).Select(file => file.Song).Distinct()];
        List<SongDifference> differences = [];
        foreach (string song in songs)
        {
            progress?.Invoke(song, (double)differences.Count / songs.Length);
            (ManifestFile Was, ManifestFile Now)[] pairs =
            [
                .. from one in was.Where(file => file.Song == song)
                   from other in now.Where(file => file.Song == song && file.SampleRate == one.SampleRate)
                   orderby one.Variant == other.Variant descending, one.Bits + other.Bits descending
                   select (one, other),
            ];
            differences.Add(pairs.Length == 0
                ? new SongDifference(song, was.FirstOrDefault(file => file.Song == song), now.FirstOrDefault(file => file.Song == song), false, [])
                : Compare(song, before, after, pairs[0], cancellation));
        }

        return differences;
    }

    private static SongDifference Compare(string song, string before, string after, (ManifestFile Was, ManifestFile Now) pair, CancellationToken cancellation)
    {
        using IAudioReader was = AudioFile.Open(Path.Combine(before, pair.Was.Name));
        using IAudioReader now = AudioFile.Open(Path.Combine(after, pair.Now.Name));
        long later = MasterShift.Between(was, now, cancellation);
        was.Seek(Math.Min(was.Info.Frames, Math.Max(0, -later)));
        now.Seek(Math.Min(now.Info.Frames, Math.Max(0, later)));
        float largest = 0;
        BandCells wasCells = new(was.Info.SampleRate);
        BandCells nowCells = new(now.Info.SampleRate);
        float[][] sides = [.. Enumerable.Range(0, 4).Select(_ => new float[FramesAtOnce])];
        bool isSame = later == 0 && was.Info.Frames == now.Info.Frames;
        int wasFrames, nowFrames;
        do
        {
            cancellation.ThrowIfCancellationRequested();
            wasFrames = Fill(was, sides[0], sides[1]);
            nowFrames = Fill(now, sides[2], sides[3]);
            isSame = isSame && wasFrames == nowFrames
                && sides[0].AsSpan(0, wasFrames).SequenceEqual(sides[2].AsSpan(0, wasFrames)) && sides[1].AsSpan(0, wasFrames).SequenceEqual(sides[3].AsSpan(0, wasFrames));
            int both = Math.Min(wasFrames, nowFrames);
            for (int i = 0; i < both; i++)
            {
                largest = Math.Max(largest, Math.Max(Math.Abs(sides[0][i] - sides[2][i]), Math.Abs(sides[1][i] - sides[3][i])));
            }

            wasCells.Add(sides[0].AsSpan(0, wasFrames), sides[1].AsSpan(0, wasFrames));
            nowCells.Add(sides[2].AsSpan(0, nowFrames), sides[3].AsSpan(0, nowFrames));
        }
        while (wasFrames > 0 || nowFrames > 0);
        double start = Math.Max(0, (double)later / now.Info.SampleRate);
        return new SongDifference(song, pair.Was, pair.Now, isSame, isSame ? [] : [.. BandChange.Between(wasCells, nowCells)
            .Select(change => change with { StartSeconds = change.StartSeconds + start, EndSeconds = change.EndSeconds + start })])
        {
            LaterSeconds = (double)later / now.Info.SampleRate,
            LargestDifferenceDbfs = Decibels.FromAmplitude(largest),
        };
    }

    private static int Fill(IAudioReader reader, float[] left, float[] right)
    {
        int done = 0;
        while (done < left.Length && reader.Read(left.AsSpan(done), right.AsSpan(done)) is > 0 and int read)
        {
            done += read;
        }

        return done;
    }
}
