using LiveStems.Albums.Model;
using LiveStems.Analysis.Comparing;
using LiveStems.Analysis.Spectra;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Engine.Comparing;
using LiveStems.Processing.Catalogue;
using Parallel = LiveStems.Albums.Model.Parallel;

namespace LiveStems.Analysis.Parallels;

/// <summary>How a stem and its parallel add up.</summary>
/// <param name="Stem">Name of the stem.</param>
/// <param name="Parallel">Name of the parallel.</param>
/// <param name="SampleRate">Rate in Hz.</param>
/// <param name="BlendDb">Blend that the check was made at.</param>
/// <param name="AlignSamples">Fine alignment that the check was made with.</param>
/// <param name="Delay">How the parallel lies against the dry stem; null when one is silent.</param>
/// <param name="DryLufs">Loudness of the dry stem.</param>
/// <param name="ParallelLufs">Loudness of the parallel at its blend.</param>
/// <param name="BothLufs">Loudness of both together.</param>
/// <param name="TurnedOverLufs">Loudness of both with the parallel's polarity turned over.</param>
/// <param name="Bands">Third octaves, upwards.</param>
public sealed record ParallelCheckReport(
    string Stem,
    string Parallel,
    int SampleRate,
    double BlendDb,
    double AlignSamples,
    PathDelay? Delay,
    double DryLufs,
    double ParallelLufs,
    double BothLufs,
    double TurnedOverLufs,
    IReadOnlyList<PairBand> Bands)
{
    private const double SureCorrelation = 0.2;

    /// <summary>True when both together are louder with the parallel turned over, by more than 0.2 LU.</summary>
    public bool IsTurnedOver => TurnedOverLufs > BothLufs + 0.2;

    /// <summary>True when both are alike enough (a correlation of a fifth or more, either way round) for the delay between them to mean something.</summary>
    public bool IsAlike => Delay is { } delay && Math.Abs(delay.Correlation) >= SureCorrelation;

    /// <summary>The alignment that brings the parallel onto the dry stem, to a thousandth of a sample; the present one when it is right.</summary>
    public double BestAlignSamples => Delay is { } delay ? Math.Round(AlignSamples - delay.Samples, 3) : AlignSamples;

    /// <summary>Bands in which the pair sums to less than its parts by more than 1 dB.</summary>
    public IEnumerable<PairBand> Losses => Bands.Where(band => band.IsLoss);
}

/// <summary>One third octave of a pair.</summary>
/// <param name="Band">The band.</param>
/// <param name="DryDbfs">Level of the dry stem; as <see cref="BandLevel.MeanDbfs"/>.</param>
/// <param name="ParallelDbfs">Level of the parallel.</param>
/// <param name="SumDb">
/// Power of both together over the sum of their powers: +3 dB when they are equal and in step, 0 when they have nothing to do
/// with each other, below 0 where they cancel. NaN where both are silent.
/// </param>
/// <param name="NotchDb">The same at the deepest place of the band; NaN where both are silent.</param>
/// <param name="NotchHz">Where that is.</param>
public sealed record PairBand(OctaveBand Band, double DryDbfs, double ParallelDbfs, double SumDb, double NotchDb, double NotchHz)
{
    // Further apart than this they cannot take away a decibel from each other: 20 log(1 − 10^(−20/20)) is −0.9 dB.
    private const double FarApartDb = 20;

    /// <summary>True when the band loses more than 1 dB, or has a notch deeper than 6 dB, by parts that are alike in level.</summary>
    public bool IsLoss => Math.Abs(DryDbfs - ParallelDbfs) < FarApartDb && Math.Max(DryDbfs, ParallelDbfs) > -100 && (SumDb < -1 || NotchDb < -6);
}

/// <summary>Checks a parallel against its stem: time, polarity, and where the pair sums to less than its parts.</summary>
public static class ParallelCheck
{
    /// <summary>The largest delay that is sought, in samples either way.</summary>
    public const int LargestLag = 2400;

    /// <summary>Renders both paths before the song chain, and checks them.</summary>
    /// <param name="song">The song.</param>
    /// <param name="stem">Name of the stem.</param>
    /// <param name="parallel">Name of its parallel.</param>
    /// <param name="albumFolder">The folder that stem paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks.</param>
    /// <exception cref="ComparisonException">There is no such path, or it is silent.</exception>
    /// <exception cref="Files.AudioFileException">A stem cannot be read.</exception>
    public static ParallelCheckReport Measure(
        Song song, string stem, string parallel, string albumFolder, ProcessorCatalogue catalogue, IProgress<double>? progress, CancellationToken cancellation)
    {
        Parallel settings = ParallelPaths.Find(ParallelPaths.Find(song, stem), parallel);
        using SoundPair pair = SoundPair.Of(
            ParallelPaths.Dry(song, stem), ParallelPaths.Wet(song, stem, parallel), albumFolder, catalogue, progress, cancellation);
        PathDelayEstimator delay = new(LargestLag);
        LoudnessMeter[] meters = [.. Enumerable.Range(0, 4).Select(_ => new LoudnessMeter(pair.SampleRate))];
        SpectrumAnalyser[] spectra = [.. Enumerable.Range(0, 3).Select(_ => new SpectrumAnalyser(pair.SampleRate, 3))];
        DifferenceMeter sum = new(-1, 1);
        DifferenceMeter turned = new(1, 1);
        pair.Walk(
            0,
            null,
            (dryLeft, dryRight, wetLeft, wetRight) =>
            {
                delay.Add(dryLeft, dryRight, wetLeft, wetRight);
                sum.Add(dryLeft, dryRight, wetLeft, wetRight);
                turned.Add(dryLeft, dryRight, wetLeft, wetRight);
                meters[0].Add(dryLeft, dryRight);
                meters[1].Add(wetLeft, wetRight);
                meters[2].Add(sum.Left, sum.Right);
                meters[3].Add(turned.Left, turned.Right);
                spectra[0].Add(dryLeft, dryRight);
                spectra[1].Add(wetLeft, wetRight);
                spectra[2].Add(sum.Left, sum.Right);
            },
            cancellation);
        if (!double.IsFinite(meters[0].IntegratedLufs))
        {
            throw new ComparisonException($"'{stem}' is silent; there is nothing to check its parallel against");
        }

        if (!double.IsFinite(meters[1].IntegratedLufs))
        {
            throw new ComparisonException($"'{stem}, {parallel}' is silent at a blend of {settings.BlendDb:0.#} dB; turn it up to check it");
        }

        return new ParallelCheckReport(
            stem,
            parallel,
            pair.SampleRate,
            settings.BlendDb,
            settings.AlignSamples,
            delay.Finish(),
            meters[0].IntegratedLufs,
            meters[1].IntegratedLufs,
            meters[2].IntegratedLufs,
            meters[3].IntegratedLufs,
            Bands(spectra[0].Finish(), spectra[1].Finish(), spectra[2].Finish()));
    }

    private static List<PairBand> Bands(LongTermSpectrum dry, LongTermSpectrum wet, LongTermSpectrum sum) =>
        [.. dry.Bands.Select((band, i) =>
        {
            double parts = Decibels.ToPower(band.MeanDbfs) + Decibels.ToPower(wet.Bands[i].MeanDbfs);
            (double notchDb, double notchHz) = Notch(band.Band, dry, wet, sum);
            return new PairBand(
                band.Band,
                band.MeanDbfs,
                wet.Bands[i].MeanDbfs,
                parts > 0 ? Decibels.FromPower(Decibels.ToPower(sum.Bands[i].MeanDbfs) / parts) : double.NaN,
                notchDb,
                notchHz);
        })];

    private static (double Db, double Hz) Notch(OctaveBand band, LongTermSpectrum dry, LongTermSpectrum wet, LongTermSpectrum sum)
    {
        int first = (int)Math.Ceiling(band.LowerHz / dry.LineHz);
        int last = Math.Min((int)(band.UpperHz / dry.LineHz), dry.Lines.Count - 1);
        double least = double.PositiveInfinity;
        int place = first;
        for (int k = first; k <= last; k++)
        {
            double parts = dry.Lines[k] + wet.Lines[k];
            if (parts > 0 && sum.Lines[k] / parts < least)
            {
                least = sum.Lines[k] / parts;
                place = k;
            }
        }

        return double.IsFinite(least) ? (Decibels.FromPower(least), place * dry.LineHz) : (double.NaN, band.MidHz);
    }
}
