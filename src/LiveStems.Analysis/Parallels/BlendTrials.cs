using LiveStems.Albums.Model;
using LiveStems.Analysis.Comparing;
using LiveStems.Dsp;
using LiveStems.Dsp.Filters;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Offline;
using LiveStems.Engine.Planning;
using LiveStems.Engine.Streaming;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Parallels;

/// <summary>
/// Tries a parallel at any blend. The stem, the parallel and the rest of the song are rendered once; a trial runs the song
/// chain over their sum in a stretch with hits.
/// </summary>
internal sealed class BlendTrials : IDisposable
{
    /// <summary>The longest stretch, in seconds.</summary>
    public const double LongestSeconds = 60;

    private const double UsualSeconds = 30;
    private const double LowHz = 40;
    private const double HighHz = 400;

    private readonly Song song;
    private readonly string albumFolder;
    private readonly ProcessorCatalogue catalogue;
    private readonly CancellationToken cancellation;
    private readonly string folder = Directory.CreateTempSubdirectory("livestems-").FullName;
    private readonly int sampleRate;
    private readonly Excerpt dry;
    private readonly Excerpt wet;
    private readonly List<int> hits;
    private readonly (EnergyCurve Curve, double Lufs) stemWithout;
    private readonly (EnergyCurve Curve, double Lufs) songWithout;

    /// <summary>Renders what all trials need.</summary>
    /// <exception cref="ComparisonException">There is no such path, it is silent, or it has no hits.</exception>
    public BlendTrials(
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
        (this.song, this.albumFolder, this.catalogue, this.cancellation) = (song, albumFolder, catalogue, cancellation);
        Stem settings = ParallelPaths.Find(song, stem);
        Song atZero = ParallelPaths.With(song, stem, parallel, each => each with { BlendDb = 0, Muted = false });
        Song without = ParallelPaths.With(song, stem, parallel, each => each with { Muted = true }) with { Bus = Chain.Empty };
        try
        {
            using SoundPair paths = SoundPair.Of(ParallelPaths.Dry(song, stem), ParallelPaths.Wet(atZero, stem, parallel), albumFolder, catalogue, progress, cancellation);
            using SoundPair others = SoundPair.Of(without, without, albumFolder, catalogue, null, cancellation, paths.SampleRate);
            sampleRate = paths.SampleRate;
            (FromSeconds, ToSeconds) = Stretch(paths, settings.Role, from, to);
            (dry, wet) = Excerpt.Of(paths, FromSeconds, ToSeconds, cancellation);
            (Excerpt rest, _) = Excerpt.Of(others, FromSeconds, ToSeconds, cancellation);
            hits = Onsets.In(Curve(dry.Left, dry.Right, IsDrums(settings.Role)));
            stemWithout = Measure(dry.Left, dry.Right);
            rest.Save(Path.Combine(folder, "rest.wav"), sampleRate);
            wet.Save(Path.Combine(folder, "parallel.wav"), sampleRate);
            songWithout = RenderSong(null);
        }
        catch
        {
            Dispose();
            throw;
        }

        if (hits.Count == 0)
        {
            Dispose();
            throw new ComparisonException($"'{stem}' has no hits between {FromSeconds:0.0} and {ToSeconds:0.0} s; choose another stretch by --from and --to");
        }

        if (!double.IsFinite(Measure(wet.Left, wet.Right).Lufs))
        {
            Dispose();
            throw new ComparisonException($"'{stem}, {parallel}' is silent between {FromSeconds:0.0} and {ToSeconds:0.0} s; choose another stretch by --from and --to");
        }
    }

    /// <summary>Start of the stretch in seconds.</summary>
    public double FromSeconds { get; }

    /// <summary>End of the stretch in seconds.</summary>
    public double ToSeconds { get; }

    /// <summary>Hits at a blend, in the stem alone and in the song; and how much louder both are.</summary>
    public (OnsetGain InStem, OnsetGain InSong, double StemLouderLu, double SongLouderLu) Try(double blendDb)
    {
        (float[] left, float[] right) = dry.Plus(wet, Decibels.ToAmplitude(blendDb));
        (EnergyCurve stemCurve, double stemLufs) = Measure(left, right);
        (EnergyCurve songCurve, double songLufs) = RenderSong(blendDb);
        return (
            OnsetGain.Between(stemWithout.Curve, stemCurve, hits),
            OnsetGain.Between(songWithout.Curve, songCurve, hits),
            stemLufs - stemWithout.Lufs,
            songLufs - songWithout.Lufs);
    }

    /// <summary>Removes the files.</summary>
    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    // Kick and snare have their weight between 40 and 400 Hz, cymbals and hats have none (common practice).
    private static bool IsDrums(StemRole role) => role is StemRole.Drums or StemRole.Percussion;

    // The stretch with the most hits, unless one is given.
    private (double From, double To) Stretch(SoundPair paths, StemRole role, double? from, double? to)
    {
        if (from is not null || to is not null)
        {
            double start = from ?? 0;
            return (start, Math.Min(to ?? start + UsualSeconds, start + LongestSeconds));
        }

        HitFinder finder = new(this, IsDrums(role));
        paths.Walk(0, null, (dryLeft, dryRight, _, _) => finder.Add(dryLeft, dryRight), cancellation);
        List<int> found = Onsets.In(finder.Curve);
        int length = (int)(UsualSeconds * EnergyCurve.StepsPerSecond);
        int best = 0;
        int most = -1;
        for (int i = 0; i < found.Count; i++)
        {
            int count = found.Count(hit => hit >= found[i] && hit < found[i] + length);
            (best, most) = count > most ? (found[i], count) : (best, most);
        }

        double begin = Math.Max(0, best / (double)EnergyCurve.StepsPerSecond - 0.1);
        return (begin, begin + UsualSeconds);
    }

    private EnergyCurve Curve(ReadOnlySpan<float> left, ReadOnlySpan<float> right, bool isBand)
    {
        HitFinder finder = new(this, isBand);
        finder.Add(left, right);
        return finder.Curve;
    }

    private (EnergyCurve Curve, double Lufs) Measure(float[] left, float[] right)
    {
        LoudnessMeter meter = new(sampleRate);
        meter.Add(left, right);
        return (Curve(left, right, false), meter.IntegratedLufs);
    }

    private (EnergyCurve Curve, double Lufs) RenderSong(double? blendDb)
    {
        Song trial = song with { SampleRate = sampleRate, RoughMix = null, Stems = [Trial("rest", 0, false), Trial("parallel", blendDb ?? 0, blendDb is null), .. KeyStems()] };
        using SongSources sources = SongSources.Open(trial, albumFolder, PlanOptions.Offline);
        SongPlan plan = SongCompiler.Compile(trial, sources, catalogue, PlanOptions.Offline);
        MeterSink sink = new(sampleRate);
        OfflineRenderer.Render(plan, sink, RenderOptions.Default, null, cancellation);
        return (sink.Curve, sink.Loudness.IntegratedLufs);
    }

    private Stem Trial(string name, double gainDb, bool isMuted) => new(
        name + " of this trial", Path.Combine(folder, name + ".wav"), string.Empty, StemRole.Other, Placement.AsDelivered with { GainDb = gainDb, Muted = isMuted }, Chain.Empty, [], []);

    private IEnumerable<Stem> KeyStems() => song.Stems
        .Where(stem => song.Bus.Slots.Any(slot => slot.KeyStem == stem.Name))
        .Select(stem => stem with
        {
            Chain = Chain.Empty,
            Parallels = [],
            Placement = stem.Placement with { Muted = true, DelayFrames = stem.Placement.DelayFrames - (int)(FromSeconds * sampleRate) },
        });

    private sealed class HitFinder
    {
        private readonly StereoCascade? band;
        private float[] left = [];
        private float[] right = [];

        public HitFinder(BlendTrials trials, bool isBand)
        {
            Curve = new EnergyCurve(trials.sampleRate);
            if (isBand)
            {
                StateVariableCoefficients[] sections = new StateVariableCoefficients[MatchedDesign.MaximumSections];
                band = new StereoCascade(2 * MatchedDesign.MaximumSections);
                int used = 0;
                foreach (FilterSettings settings in new FilterSettings[] { new(FilterShape.HighPass, LowHz, 0, Math.Sqrt(0.5), 2), new(FilterShape.LowPass, HighHz, 0, Math.Sqrt(0.5), 4) })
                {
                    int count = MatchedDesign.Design(settings, trials.sampleRate, sections);
                    for (int i = 0; i < count; i++)
                    {
                        band.Set(used++, sections[i]);
                    }
                }
            }
        }

        public EnergyCurve Curve { get; }

        public void Add(ReadOnlySpan<float> newLeft, ReadOnlySpan<float> newRight)
        {
            if (band is null)
            {
                Curve.Add(newLeft, newRight);
                return;
            }

            if (left.Length < newLeft.Length)
            {
                left = new float[newLeft.Length];
                right = new float[newLeft.Length];
            }

            newLeft.CopyTo(left);
            newRight.CopyTo(right);
            band.Process(left.AsSpan(0, newLeft.Length), right.AsSpan(0, newLeft.Length));
            Curve.Add(left.AsSpan(0, newLeft.Length), right.AsSpan(0, newLeft.Length));
        }
    }

    private sealed class MeterSink(int rate) : IRenderSink
    {
        public EnergyCurve Curve { get; } = new(rate);

        public LoudnessMeter Loudness { get; } = new(rate);

        public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right)
        {
            Curve.Add(left, right);
            Loudness.Add(left, right);
        }
    }
}
