using System.CommandLine;
using System.Text.Json.Nodes;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Analysis.Spectra;
using LiveStems.App.Terminal;
using LiveStems.Dsp;
using LiveStems.View.Pictures;
using LiveStems.View.Plots;

namespace LiveStems.App.Verbs;

/// <summary><c>spectrum</c>: long-term spectra of files or of an album's stems.</summary>
internal static class SpectrumVerb
{
    private static readonly string[] Fractions = ["1", "3", "6", "12", "24"];

    /// <summary>The verb.</summary>
    public static Command Create(CancellationToken interruption)
    {
        Argument<string[]> files = new("file") { Description = "Sound files; or an album's folder, for the stems of a song.", Arity = ArgumentArity.OneOrMore };
        Option<string?> song = CommonOptions.Song();
        Option<string?> stem = new("--stem") { Description = "One stem of the song by its name or the beginning of it." };
        Option<string> bands = new("--bands") { Description = "Bands to the octave: 1, 3, 6, 12 or 24.", DefaultValueFactory = _ => "3" };
        bands.AcceptOnlyFromAmong(Fractions);
        Option<SpectrumChannel> channel = new("--channel") { Description = "Both (the mean of both powers), left, right, mid or side." };
        Option<bool> crest = new("--crest") { Description = "Measure the crest of every band, too; takes longer." };
        Option<bool> lines = new("--lines") { Description = "With --json: the lines of the transform, too." };
        Option<string?> picture = CommonOptions.Picture();
        Option<bool> json = CommonOptions.Json();
        Command verb = new("spectrum", "Shows long-term spectra: fractional octaves (IEC 61260-1), levels that 10, 50, 90 and 99 % of the time lie below, crest, tilt against pink noise.")
        {
            files, song, stem, bands, channel, crest, lines, picture, json,
        };
        verb.AddExamples(
            "livestems spectrum \"Masters/01 Foghorn Waltz.wav\" --crest",
            "livestems spectrum Album --song 1 --picture stems.png",
            "livestems spectrum Album --song 1 --stem Bass --bands 24 --channel mid --json --lines");
        verb.SetAction(parsed =>
        {
            List<(string Name, string Path)> wanted = Wanted(parsed.GetRequiredValue(files), parsed.GetValue(song), parsed.GetValue(stem));
            (string Name, LongTermSpectrum Spectrum)[] results = Measure(
                wanted, int.Parse(parsed.GetRequiredValue(bands)), parsed.GetValue(channel), parsed.GetValue(crest), interruption);
            if (parsed.GetValue(picture) is { } file)
            {
                LongTermPicture.Of(results).Save(file);
            }

            TextWriter output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(output, JsonOutput.Array(results.Select(result => ToJson(result.Name, result.Spectrum, parsed.GetValue(lines)))));
            }
            else
            {
                Write(output, results);
            }

            return 0;
        });
        return verb;
    }

    private static List<(string Name, string Path)> Wanted(string[] paths, string? song, string? stem)
    {
        bool isAlbum = paths is [var only] && (Directory.Exists(only) || only.EndsWith(".json", StringComparison.OrdinalIgnoreCase));
        if (!isAlbum)
        {
            return song is null && stem is null
                ? [.. paths.Select(path => (Path.GetFileName(path), path))]
                : throw new UsageException("--song and --stem need an album; name its folder alone");
        }

        Album album = AlbumFile.Load(paths[0], Processors.Catalogue);
        string folder = AlbumFile.FolderOf(paths[0]);
        List<(string Name, string Path)> stems = [];
        foreach (Song chosen in SongChoice.From(album, song).Select(place => album.Songs[place]))
        {
            IEnumerable<Stem> fitting = stem is null ? chosen.Stems : [chosen.Stems[SongChoice.From([.. chosen.Stems.Select(each => each.Name)], stem)]];
            stems.AddRange(fitting.Select(each => ($"{chosen.Title} / {each.Name}", AlbumPath.OnDisk(folder, each.File))));
        }

        return stems;
    }

    private static (string Name, LongTermSpectrum Spectrum)[] Measure(
        List<(string Name, string Path)> files, int fraction, SpectrumChannel channel, bool withCrest, CancellationToken interruption)
    {
        using ProgressLine line = new();
        double[] shares = new double[files.Count];
        (string, LongTermSpectrum)[] results = new (string, LongTermSpectrum)[files.Count];
        ParallelOptions how = new() { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = interruption };
        try
        {
            System.Threading.Tasks.Parallel.For(0, files.Count, how, i =>
            {
                results[i] = (files[i].Name, FileSpectrum.Measure(files[i].Path, fraction, channel, withCrest, share =>
                {
                    shares[i] = share;
                    line.Report($"spectrum of {files[i].Name}", shares.Average());
                }, interruption).Spectrum);
            });
        }
        catch (AggregateException several)
        {
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
        }

        return results;
    }

    private static void Write(TextWriter output, (string Name, LongTermSpectrum Spectrum)[] results)
    {
        if (results is [var only])
        {
            WriteOne(output, only.Name, only.Spectrum);
            return;
        }

        TextTable table = new("file", "tilt dB/oct", "off the line dB", "strongest band Hz", "its level dBFS");
        foreach ((string name, LongTermSpectrum spectrum) in results)
        {
            BandLevel strongest = spectrum.Bands.MaxBy(band => band.MeanDbfs)!;
            table.Add(name, Numbers.Text(spectrum.Tilt.DbPerOctave, 2), Numbers.Text(spectrum.Tilt.DeviationDb, 1), $"{strongest.Band.NominalHz:0.##}", Numbers.Text(strongest.MeanDbfs, 1));
        }

        table.WriteTo(output);
    }

    private static void WriteOne(TextWriter output, string name, LongTermSpectrum spectrum)
    {
        output.WriteLine($"{name}: {Numbers.Length(spectrum.Seconds)}, tilt {Numbers.Text(spectrum.Tilt.DbPerOctave, 2)} dB an octave against pink noise, {Numbers.Text(spectrum.Tilt.DeviationDb, 1)} dB off that line");
        (double, double)[] curve = [.. spectrum.Bands.Where(band => double.IsFinite(band.MeanDbfs)).Select(band => (band.Band.MidHz, band.MeanDbfs))];
        if (curve.Length > 1)
        {
            output.WriteLine("Mean level of bands in dBFS (a sine of full scale reads 0)");
            output.Write(TerminalPlot.Response(curve));
        }

        output.WriteLine();
        TextTable table = new("Hz", "mean dBFS", "10 %", "50 %", "90 %", "99 %", "max", "crest dB");
        foreach (BandLevel band in spectrum.Bands)
        {
            table.Add(
                $"{band.Band.NominalHz:0.##}",
                Numbers.Text(band.MeanDbfs, 1),
                Numbers.Text(band.Percentile10Dbfs, 1),
                Numbers.Text(band.Percentile50Dbfs, 1),
                Numbers.Text(band.Percentile90Dbfs, 1),
                Numbers.Text(band.Percentile99Dbfs, 1),
                Numbers.Text(band.MaximumDbfs, 1),
                Numbers.Text(band.CrestDb ?? double.NaN, 1));
        }

        table.WriteTo(output);
    }

    private static JsonObject ToJson(string name, LongTermSpectrum spectrum, bool withLines)
    {
        JsonObject json = new()
        {
            ["name"] = name,
            ["sampleRateHz"] = spectrum.SampleRate,
            ["seconds"] = Numbers.Json(spectrum.Seconds, 6),
            ["bandsPerOctave"] = spectrum.BandsPerOctave,
            ["tiltDbPerOctave"] = Numbers.Json(spectrum.Tilt.DbPerOctave, 3),
            ["tiltDeviationDb"] = Numbers.Json(spectrum.Tilt.DeviationDb, 3),
            ["bands"] = JsonOutput.Array(spectrum.Bands.Select(band => new JsonObject
            {
                ["frequencyHz"] = Numbers.Json(band.Band.MidHz, 4),
                ["lowerHz"] = Numbers.Json(band.Band.LowerHz, 4),
                ["upperHz"] = Numbers.Json(band.Band.UpperHz, 4),
                ["nominalHz"] = band.Band.NominalHz,
                ["meanDbfs"] = Numbers.Json(band.MeanDbfs, 3),
                ["percentile10Dbfs"] = Numbers.Json(band.Percentile10Dbfs, 2),
                ["percentile50Dbfs"] = Numbers.Json(band.Percentile50Dbfs, 2),
                ["percentile90Dbfs"] = Numbers.Json(band.Percentile90Dbfs, 2),
                ["percentile99Dbfs"] = Numbers.Json(band.Percentile99Dbfs, 2),
                ["maximumDbfs"] = Numbers.Json(band.MaximumDbfs, 2),
                ["crestDb"] = Numbers.Json(band.CrestDb ?? double.NaN, 2),
            })),
        };
        if (withLines)
        {
            json["lineHz"] = spectrum.LineHz;
            json["lineDbfs"] = JsonOutput.Array(spectrum.Lines.Select(power => Numbers.Json(Decibels.FromPower(2 * power), 2)));
        }

        return json;
    }
}
