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

    // From hardly heard to the most, and then halved down to the tolerance.
    private static readonly double[] Steps = [-30, -24, -18, -12, -9, -6, -3, 0, 3, 6, 9, 12];

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
    /// Finds the lowest blend at which the onsets of the stem's hits stand higher by a wanted gain in the whole song, behind
    /// the song chain and with the song no louder than without (<see cref="BlendReport.FairOnsetDb"/>), and measures the
    /// parallel there. Parameters as <see cref="Measure"/>.
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
        BlendReport best = Report(trials, stem, parallel, AlbumFields.BlendDb.Spec.Minimum);
        double low = best.BlendDb;
        foreach (double step in Steps)
        {
            BlendReport report = Report(trials, stem, parallel, step);
            if (report.FairOnsetDb >= onsetDb)
            {
                return Between(trials, onsetDb, low, report);
            }

            low = step;
            best = report.FairOnsetDb > best.FairOnsetDb ? report : best;
        }

        throw new ComparisonException(
            $"'{stem}, {parallel}' lifts the onsets by {Signed(best.FairOnsetDb)} dB at most once the song is equally loud (at a blend of {best.BlendDb:0} dB), not by {Signed(onsetDb)} dB; more bite needs another chain in the parallel");
    }

    private static BlendReport Between(BlendTrials trials, double onsetDb, double low, BlendReport high)
    {
        while (Math.Abs(high.FairOnsetDb - onsetDb) > ToleranceDb && high.BlendDb - low > 0.02)
        {
            BlendReport middle = Report(trials, high.Stem, high.Parallel, Math.Round((low + high.BlendDb) / 2, 2));
            if (middle.FairOnsetDb >= onsetDb)
            {
                high = middle;
            }
            else
            {
                low = middle.BlendDb;
            }
        }

        return high;
    }

    private static string Signed(double decibels) => decibels.ToString("+0.0;−0.0;0.0");

    private static BlendReport Report(BlendTrials trials, string stem, string parallel, double blendDb)
    {
        (OnsetGain inStem, OnsetGain inSong, double stemLouder, double songLouder) = trials.Try(blendDb);
        return new BlendReport(stem, parallel, blendDb, trials.FromSeconds, trials.ToSeconds, inStem, inSong, stemLouder, songLouder);
    }
}
