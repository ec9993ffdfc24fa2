using LiveStems.Albums.Model;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Masking;

/// <summary>Makes the masking map of a song from its stems as they reach the song bus, with or without their corrections.</summary>
public static class SongMasking
{
    /// <summary>The map of a song; memory does not grow with its length.</summary>
    /// <param name="song">The song.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="withCorrections">False for the stems as delivered, with their gains and pans alone.</param>
    /// <param name="listeningLevelDb">Sound pressure level, dB, at which −20 dBFS RMS is heard.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="Files.AudioFileException">A stem cannot be read, or the song has none.</exception>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public static MaskingMap Of(
        Song song,
        string albumFolder,
        bool withCorrections,
        double listeningLevelDb,
        ProcessorCatalogue catalogue,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(song);
        Song heard = song with
        {
            Bus = Chain.Empty,
            Stems = withCorrections ? song.Stems : [.. song.Stems.Select(stem => stem with { Chain = Chain.Empty, Parallels = [] })],
        };
        PlanOptions options = PlanOptions.Offline;
        using SongSources sources = SongSources.Open(heard, albumFolder, options);
        SongPlan plan = SongCompiler.Compile(heard, sources, catalogue, options);
        MaskingCounter counter = new(heard.Stems.Length, sources.SampleRate, listeningLevelDb);
        StemRenderer.Render(plan, counter, progress is null ? null : new Delivery.ShareReporter(progress), cancellation);
        return new MaskingMapBuilder(counter, [.. heard.Stems.Select(stem => stem.Name)], (double)sources.Frames / sources.SampleRate).Build();
    }
}
