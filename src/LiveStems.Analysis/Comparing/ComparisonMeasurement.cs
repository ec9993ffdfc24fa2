using LiveStems.Albums.Model;
using LiveStems.Analysis.Spectra;
using LiveStems.Dsp;
using LiveStems.Dsp.Loudness;
using LiveStems.Dsp.Simd;
using LiveStems.Engine.Comparing;
using LiveStems.Files.Writing;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Comparing;

/// <summary>Renders both sides of a comparison, measures them, and writes them equally loud if wanted.</summary>
public static class ComparisonMeasurement
{
    private const int BandsPerOctave = 3;

    /// <summary>Compares.</summary>
    /// <param name="comparison">What is compared and where it is heard.</param>
    /// <param name="song">The song as it is.</param>
    /// <param name="albumFolder">The folder that its paths are relative to.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="from">Start of the stretch that counts, in seconds.</param>
    /// <param name="to">Its end, or null for the end of the song.</param>
    /// <param name="outFolder">
    /// Where <c>in.wav</c>, <c>out.wav</c> and <c>difference.wav</c> go, 32-bit float, the first two equally loud, the third at
    /// the gain of "out"; null for none.
    /// </param>
    /// <param name="progress">Told the share done, 0 to 1; may be null.</param>
    /// <param name="cancellation">Stops between two blocks and leaves nothing behind.</param>
    /// <exception cref="ComparisonException">There is nothing to compare, or a side is silent.</exception>
    /// <exception cref="Files.AudioFileException">A file cannot be read or written.</exception>
    public static ComparisonReport Measure(
        Comparison comparison,
        Song song,
        string albumFolder,
        ProcessorCatalogue catalogue,
        double from,
        double? to,
        string? outFolder,
        IProgress<double>? progress,
        CancellationToken cancellation)
    {
        ComparedSongs songs = comparison.Of(song);
        using SoundPair pair = SoundPair.Of(songs, albumFolder, catalogue, progress, cancellation);
        ProgrammeMeter inMeter = new(pair.SampleRate);
        ProgrammeMeter outMeter = new(pair.SampleRate);
        SpectrumAnalyser inBands = new(pair.SampleRate, BandsPerOctave);
        SpectrumAnalyser outBands = new(pair.SampleRate, BandsPerOctave);
        SpectrumAnalyser differenceBands = new(pair.SampleRate, BandsPerOctave);
        DifferenceMeter difference = new(1, 1);
        long frames = pair.Walk(
            from,
            to,
            (inLeft, inRight, outLeft, outRight) =>
            {
                inMeter.Add(inLeft, inRight);
                outMeter.Add(outLeft, outRight);
                inBands.Add(inLeft, inRight);
                outBands.Add(outLeft, outRight);
                difference.Add(inLeft, inRight, outLeft, outRight);
                differenceBands.Add(difference.Left, difference.Right);
            },
            cancellation);
        if (frames == 0)
        {
            throw new ComparisonException($"the stretch from {from:0.###} s holds nothing of '{song.Title}'; give one inside the song");
        }

        LoudnessReport inLoudness = inMeter.Finish();
        LoudnessReport outLoudness = outMeter.Finish();
        FairGain fair = FairGain.For(inLoudness.IntegratedLufs, outLoudness.IntegratedLufs);
        if (!fair.IsMeasured)
        {
            string side = double.IsFinite(fair.InLufs) ? "out" : double.IsFinite(fair.OutLufs) ? "in" : "both sides";
            throw new ComparisonException($"{comparison.Words}: silent ({side}) in this stretch, so there is nothing to make equally loud; choose one with sound by --from and --to");
        }

        DifferenceMeter fairDifference = new(Decibels.ToAmplitude(fair.InDb), Decibels.ToAmplitude(fair.OutDb));
        pair.Walk(from, to, fairDifference.Add, cancellation);
        if (outFolder is not null)
        {
            Write(pair, from, to, fair, outFolder, cancellation);
        }

        return new ComparisonReport(
            comparison.Words,
            pair.SampleRate,
            from,
            (double)frames / pair.SampleRate,
            inLoudness,
            outLoudness,
            fair,
            difference.RmsDbfs,
            difference.PeakDbfs,
            fairDifference.RmsDbfs,
            Bands(inBands.Finish(), outBands.Finish(), differenceBands.Finish(), fair));
    }

    private static List<ComparedBand> Bands(LongTermSpectrum inSide, LongTermSpectrum outSide, LongTermSpectrum difference, FairGain fair) =>
        [.. inSide.Bands.Select((band, i) => new ComparedBand(
            band.Band,
            band.MeanDbfs,
            outSide.Bands[i].MeanDbfs,
            difference.Bands[i].MeanDbfs,
            double.IsFinite(band.MeanDbfs) && double.IsFinite(outSide.Bands[i].MeanDbfs) ? outSide.Bands[i].MeanDbfs - band.MeanDbfs - fair.DifferenceLu : double.NaN))];

    private static void Write(SoundPair pair, double from, double? to, FairGain fair, string folder, CancellationToken cancellation)
    {
        Directory.CreateDirectory(folder);
        WavFormat format = new(pair.SampleRate, 32, IsFloat: true);
        using WavWriter inFile = new(Path.Combine(folder, "in.wav"), format);
        using WavWriter outFile = new(Path.Combine(folder, "out.wav"), format);
        using WavWriter differenceFile = new(Path.Combine(folder, "difference.wav"), format);
        float inGain = (float)Decibels.ToAmplitude(fair.InDb);
        float outGain = (float)Decibels.ToAmplitude(fair.OutDb);
        DifferenceMeter difference = new(outGain, outGain);
        float[] left = [];
        float[] right = [];
        pair.Walk(
            from,
            to,
            (inLeft, inRight, outLeft, outRight) =>
            {
                if (left.Length != inLeft.Length)
                {
                    left = new float[inLeft.Length];
                    right = new float[inLeft.Length];
                }

                Planar.Scale(inLeft, inGain, left);
                Planar.Scale(inRight, inGain, right);
                inFile.Write(left, right);
                Planar.Scale(outLeft, outGain, left);
                Planar.Scale(outRight, outGain, right);
                outFile.Write(left, right);
                difference.Add(inLeft, inRight, outLeft, outRight);
                differenceFile.Write(difference.Left, difference.Right);
            },
            cancellation);
        inFile.Complete();
        outFile.Complete();
        differenceFile.Complete();
    }
}
