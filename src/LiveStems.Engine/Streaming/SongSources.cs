using LiveStems.Albums.Model;
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
    private SongSources(int sampleRate, IReadOnlyList<StemPump> pumps, IReadOnlyList<AudioFileInfo> files)
    {
        SampleRate = sampleRate;
        Pumps = pumps;
        Files = files;
        Head = new PlayHead(PlanTiming.RampFrames(sampleRate));
        Frames = pumps.Max(pump => pump.EndFrame);
    }

    /// <summary>Frames per second the song runs at.</summary>
    public int SampleRate { get; }

    /// <summary>Frames from the start of the song to the end of its longest stem.</summary>
    public long Frames { get; }

    /// <summary>What the stems' files are, in the order of the stems.</summary>
    public IReadOnlyList<AudioFileInfo> Files { get; }

    internal IReadOnlyList<StemPump> Pumps { get; }

    internal PlayHead Head { get; }

    /// <summary>Opens the stems of a song.</summary>
    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="options">Look-ahead, longest block, and the rate asked for.</param>
    /// <exception cref="AudioFileException">A stem cannot be opened, or the song has none.</exception>
    public static SongSources Open(Song song, string albumFolder, PlanOptions options)
    {
        if (song.Stems.IsEmpty)
        {
            throw new AudioFileException($"the song '{song.Title}' has no stems; import some");
        }

        List<IAudioReader> readers = [];
        try
        {
            foreach (Stem stem in song.Stems)
            {
                readers.Add(AudioFile.Open(Path.Combine(albumFolder, stem.File)));
            }
        }
        catch
        {
            readers.ForEach(reader => reader.Dispose());
            throw;
        }

        int sampleRate = RateChoice.For(song, readers.Select(reader => reader.Info.SampleRate), options.SampleRate);
        IEnumerable<StemPump> pumps = readers.Select((reader, index) => new StemPump(
            reader.Info.SampleRate == sampleRate ? reader : new ResampledReader(reader, sampleRate),
            new StemFeed(options.IsLive ? 2 : 1, options.LookAheadFrames, options.MaximumFrames),
            song.Stems[index].Placement.DelayFrames,
            PlanTiming.RampFrames(sampleRate)));
        return new SongSources(sampleRate, [.. pumps], [.. readers.Select(reader => reader.Info)]);
    }

    /// <summary>Closes the stems.</summary>
    public void Dispose()
    {
        foreach (StemPump pump in Pumps)
        {
            pump.Dispose();
        }
    }
}
