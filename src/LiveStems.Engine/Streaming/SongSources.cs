using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.Engine.Streaming;

/// <summary>
/// The open stems of a song at the rate it runs at, with their look-ahead. Several plans may be compiled over one set, so
/// that chains can change while the music goes on.
/// </summary>
public sealed class SongSources : IDisposable
{
    private readonly IReadOnlyList<ComparedFile> tracks;

    private SongSources(
        int sampleRate, int stems, IReadOnlyList<ComparedFile> tracks, IReadOnlyList<StemPump> pumps, IReadOnlyList<AudioFileInfo> files)
    {
        SampleRate = sampleRate;
        this.tracks = tracks;
        Pumps = pumps;
        Files = files;
        Head = new PlayHead(PlanTiming.RampFrames(sampleRate));
        Frames = pumps.Take(stems).Max(pump => pump.EndFrame);
    }

    /// <summary>Frames per second the song runs at.</summary>
    public int SampleRate { get; }

    /// <summary>Frames from the start of the song to the end of its longest stem.</summary>
    public long Frames { get; }

    /// <summary>What the files are: those of the stems, in their order, then those of what the song is compared with.</summary>
    public IReadOnlyList<AudioFileInfo> Files { get; }

    internal IReadOnlyList<StemPump> Pumps { get; }

    internal PlayHead Head { get; }

    /// <summary>Opens the stems of a song.</summary>
    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="options">Look-ahead, longest block, and the rate asked for.</param>
    /// <exception cref="AudioFileException">A stem cannot be opened, or the song has none.</exception>
    public static SongSources Open(Song song, string albumFolder, PlanOptions options) => Open(ComparedSongs.Only(song), albumFolder, options);

    /// <summary>
    /// Opens what both sides of a comparison play; a live song's rough mix is opened with it, where it is there, so that
    /// going over to it is a matter of one callback.
    /// </summary>
    /// <exception cref="AudioFileException">A file cannot be opened, or the song has no stems.</exception>
    internal static SongSources Open(ComparedSongs songs, string albumFolder, PlanOptions options)
    {
        Song song = songs.Out;
        if (song.Stems.IsEmpty)
        {
            throw new AudioFileException($"the song '{song.Title}' has no stems; import some");
        }

        List<ComparedFile> tracks = [.. song.Stems.Select(TrackOf)];
        tracks.AddRange(Beside(songs).Where(track => !tracks.Contains(track)).Distinct());
        List<IAudioReader> readers = [];
        try
        {
            foreach (ComparedFile track in tracks)
            {
                readers.Add(options.OpenFile(AlbumPath.OnDisk(albumFolder, track.Path)));
            }

            if (options.CanJump && song.RoughMix is { } path && new ComparedFile(path, 0) is { } roughMix && !tracks.Contains(roughMix))
            {
                AddIfReadable(roughMix, albumFolder, options, tracks, readers);
            }
        }
        catch
        {
            readers.ForEach(reader => reader.Dispose());
            throw;
        }

        List<int> stemRates = [];
        for (int i = 0; i < song.Stems.Length; i++)
        {
            stemRates.Add(readers[i].Info.SampleRate);
        }

        int sampleRate = RateChoice.For(song, stemRates, options.SampleRate);
        StemPump[] pumps = new StemPump[readers.Count];
        for (int i = 0; i < pumps.Length; i++)
        {
            pumps[i] = new StemPump(
                readers[i].Info.SampleRate == sampleRate ? readers[i] : new ResampledReader(readers[i], sampleRate),
                new StemFeed(options.CanJump ? 2 : 1, options.LookAheadFrames, options.MaximumFrames, PlanTiming.RampFrames(sampleRate)),
                tracks[i].DelayFrames,
                PlanTiming.RampFrames(sampleRate));
        }

        return new SongSources(sampleRate, song.Stems.Length, tracks, pumps, [.. readers.Select(reader => reader.Info)]);
    }

    /// <summary>True when everything that is compared with the song is open here.</summary>
    internal bool HoldBeside(ComparedSongs songs) => Beside(songs).All(track => IndexOf(track.Path, track.DelayFrames) >= 0);

    /// <summary>Which of the files a path and a delay mean; −1 for none.</summary>
    internal int IndexOf(string path, int delayFrames)
    {
        ComparedFile wanted = new(path, delayFrames);
        for (int i = 0; i < tracks.Count; i++)
        {
            if (tracks[i] == wanted)
            {
                return i;
            }
        }

        return -1;
    }

    // Nobody has asked for it yet, so that one which cannot be read is no reason not to play.
    private static void AddIfReadable(ComparedFile track, string albumFolder, PlanOptions options, List<ComparedFile> tracks, List<IAudioReader> readers)
    {
        try
        {
            readers.Add(options.OpenFile(AlbumPath.OnDisk(albumFolder, track.Path)));
            tracks.Add(track);
        }
        catch (AudioFileException)
        {
            // It is opened again, and the fault told, when it is to be heard.
        }
    }

    private static IEnumerable<ComparedFile> Beside(ComparedSongs songs)
    {
        IEnumerable<ComparedFile> stems = songs.In?.Stems.Select(TrackOf) ?? [];
        return songs.InFile is { } file ? stems.Append(file) : stems;
    }

    private static ComparedFile TrackOf(Stem stem) => new(stem.File, stem.Placement.DelayFrames);

    /// <summary>Closes the stems.</summary>
    public void Dispose()
    {
        foreach (StemPump pump in Pumps)
        {
            pump.Dispose();
        }
    }
}
