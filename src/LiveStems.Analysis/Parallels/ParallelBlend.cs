using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Parallels;

/// <summary>Measures what a parallel does to hits, and finds the blend that does what is wanted.</summary>
public static class ParallelBlend
{
    /// <summary>How close to the wanted gain it stops, in dB.</summary>
    public const double ToleranceDb = 0.05;

    private const int MostTrials = 10;

    /// <summary>Measures a parallel at its present blend.</summary>
    /// <param name="song">The song.</param>
    /// <param name="stem">Name of the stem.</param>
    /// <param name="parallel">Name of its parallel.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="from">Start of the stretch in seconds; null for the 30 s with the most hits.</param>
    /// <param name="to">Its end; at most 60 s later.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="ComparisonException">There is no such path, it is silent, or it has no hits there.</exception>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static BlendReport Measure(
        Song song,
        string stem,
        string parallel,
        string albumFolder,
        ProcessorCatalogue catalogue,
        double? from,
        double? to,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        Parallel settings = ParallelPaths.Find(ParallelPaths.Find(song, stem), parallel);
        using BlendTrials trials = new(song, stem, parallel, albumFolder, catalogue, from, to, progress, cancellation);
        return Report(trials, stem, parallel, settings.BlendDb);
    }

    /// <summary>
    /// Finds the blend at which the onsets of the stem's hits rise by a wanted gain in the whole song, behind the song chain,
    /// and measures the parallel there. Parameters as <see cref="Measure"/>.
    /// </summary>
    /// <exception cref="ComparisonException">As <see cref="Measure"/>, or the gain lies out of reach.</exception>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static BlendReport Meet(
        double onsetDb,
        Song song,
        string stem,
        string parallel,
        string albumFolder,
        ProcessorCatalogue catalogue,
        double? from,
        double? to,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        using BlendTrials trials = new(song, stem, parallel, albumFolder, catalogue, from, to, progress, cancellation);
        double aim = onsetDb;
        BlendReport report = Report(trials, stem, parallel, BlendFor(trials, aim));
        double highest = report.InSong.OnsetDb;
        for (int trial = 0; trial < MostTrials && Math.Abs(onsetDb - report.InSong.OnsetDb) > ToleranceDb; trial++)
        {
            // The song chain gives back less than it gets: aim as much higher as it fell short.
            aim += onsetDb - report.InSong.OnsetDb;
            double blend = BlendFor(trials, aim);
            if (blend == report.BlendDb)
            {
                break;
            }

            report = Report(trials, stem, parallel, blend);
            highest = Math.Max(highest, report.InSong.OnsetDb);
        }

        return Math.Abs(onsetDb - report.InSong.OnsetDb) <= ToleranceDb
            ? report
            : throw new ComparisonException(
                $"'{stem}, {parallel}' brings the onsets up by {highest:0.0} dB in the song at most, not by {onsetDb:0.0} dB, for blends from {AlbumFields.BlendDb.FormatRange()}");
    }

    private static BlendReport Report(BlendTrials trials, string stem, string parallel, double blendDb)
    {
        (OnsetGain inStem, OnsetGain inSong, double stemLouder, double songLouder) = trials.Try(blendDb);
        return new BlendReport(stem, parallel, blendDb, trials.FromSeconds, trials.ToSeconds, inStem, inSong, stemLouder, songLouder);
    }

    // Onsets rise with the blend wherever the parallel is in step with the song; halving finds the place to 0.01 dB.
    private static double BlendFor(BlendTrials trials, double onsetDb)
    {
        (double low, double high) = (AlbumFields.BlendDb.Spec.Minimum, AlbumFields.BlendDb.Spec.Maximum);
        while (high - low > 0.01)
        {
            double middle = (low + high) / 2;
            (low, high) = trials.OnsetDbBeforeSongChain(middle) < onsetDb ? (middle, high) : (low, middle);
        }

        return Math.Round((low + high) / 2, 2);
    }
}
