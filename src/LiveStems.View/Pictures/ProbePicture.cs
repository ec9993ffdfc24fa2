using LiveStems.Analysis.Probe;
using ScottPlot;

namespace LiveStems.View.Pictures;

/// <summary>What a processor or chain does, in one picture: response, phase and delay, level curve, harmonics, and the gain over a step.</summary>
public static class ProbePicture
{
    private const double LowestHarmonicDb = -140;

    /// <summary>Draws a report.</summary>
    /// <param name="name">What was probed.</param>
    /// <param name="report">The measurement.</param>
    public static Picture Draw(string name, ProbeReport report)
    {
        Picture picture = new(name);
        double[] frequencies = [.. report.Response.Select(point => Picture.At(point.FrequencyHz))];
        Plot response = picture.AddFrequencyChart("gain (dB)", $"response at {report.ResponseLevelDbfs:0} dBFS");
        Picture.DrawLine(response, frequencies, [.. report.Response.Select(point => Math.Max(point.GainDb, -90))]);
        Open(response, report.Response.Select(point => Math.Max(point.GainDb, -90)), 3);

        Plot phase = picture.AddFrequencyChart("phase (degrees)", "phase, the latency taken out");
        Picture.DrawLine(phase, frequencies, [.. report.Response.Select(point => point.PhaseDegrees)], 1);
        phase.Axes.SetLimitsY(-190, 190);

        Plot delay = picture.AddFrequencyChart("group delay (ms)", "group delay on top of the latency");
        Picture.DrawLine(delay, frequencies, [.. report.Response.Select(point => point.GroupDelayMs)], 2);
        Open(delay, report.Response.Select(point => point.GroupDelayMs), 0.5);

        Plot levels = picture.AddChart("input (dBFS)", "output (dBFS)", $"level curve at {report.LevelFrequencyHz:0} Hz");
        double[] inputs = [.. report.Levels.Select(point => point.InputDbfs)];
        ScottPlot.Plottables.LinePlot same = levels.Add.Line(inputs[0], inputs[0], inputs[^1], inputs[^1]);
        same.LineColor = Color.FromHex(PicturePalette.Quiet);
        same.LinePattern = LinePattern.Dotted;
        Picture.DrawLine(levels, inputs, [.. report.Levels.Select(point => Math.Max(point.OutputDbfs, -140))]);
        levels.Axes.SetLimitsX(inputs[0], inputs[^1]);

        Plot harmonics = picture.AddChart("input (dBFS)", "relative to the fundamental (dB)", "harmonics over level");
        for (int k = 0; k < report.Levels[0].HarmonicsDb.Count; k++)
        {
            int number = k;
            double[] up = [.. report.Levels.Select(point => Math.Max(point.HarmonicsDb[number], LowestHarmonicDb))];
            if (up.Max() > LowestHarmonicDb)
            {
                Picture.DrawLine(harmonics, inputs, up, k, $"{k + 2}");
            }
        }

        harmonics.Axes.SetLimits(inputs[0], inputs[^1], LowestHarmonicDb, 0);

        Plot step = picture.AddChart("time since the step up (s); the step down is at 1 s", "gain (dB)", "gain when the level steps from −30 to −6 dBFS and back");
        Picture.DrawLine(step, [.. report.Step.Select(point => point.Seconds)], [.. report.Step.Select(point => Math.Max(point.GainDb, -90))], 3);
        step.Axes.SetLimitsX(report.Step[0].Seconds, report.Step[^1].Seconds);
        Open(step, report.Step.Select(point => Math.Max(point.GainDb, -90)), 3);
        return picture;
    }

    // A flat line gets room around it, so that rounding is not blown up to hills.
    private static void Open(Plot chart, IEnumerable<double> values, double least)
    {
        double low = values.Min();
        double high = values.Max();
        double margin = Math.Max(least, 0.08 * (high - low));
        chart.Axes.SetLimitsY(low - margin, high + margin);
    }
}
