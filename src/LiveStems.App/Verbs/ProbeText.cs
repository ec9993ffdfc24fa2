using System.Text.Json.Nodes;
using LiveStems.Analysis.Probe;
using LiveStems.App.Terminal;
using LiveStems.View.Plots;

namespace LiveStems.App.Verbs;

/// <summary>A probe's findings for people and for programs.</summary>
internal static class ProbeText
{
    private static readonly double[] HarmonicLevels = [-30, -18, -12, -6, 0];

    /// <summary>Adds the measurement to a JSON object.</summary>
    public static void AddTo(JsonObject json, ProbeReport report)
    {
        json["sampleRateHz"] = report.SampleRate;
        json["latencyFrames"] = report.LatencyFrames;
        json["responseLevelDbfs"] = report.ResponseLevelDbfs;
        json["response"] = JsonOutput.Array(report.Response.Select(point => new JsonObject
        {
            ["frequencyHz"] = Numbers.Json(point.FrequencyHz, 3),
            ["gainDb"] = Numbers.Json(point.GainDb, 4),
            ["phaseDegrees"] = Numbers.Json(point.PhaseDegrees, 3),
            ["groupDelayMs"] = Numbers.Json(point.GroupDelayMs, 4),
        }));
        json["levelFrequencyHz"] = report.LevelFrequencyHz;
        json["levels"] = JsonOutput.Array(report.Levels.Select(point => new JsonObject
        {
            ["inputDbfs"] = point.InputDbfs,
            ["outputDbfs"] = Numbers.Json(point.OutputDbfs, 4),
            ["harmonicsDb"] = JsonOutput.Array(point.HarmonicsDb.Select(level => Numbers.Json(level, 2))),
        }));
        json["step"] = JsonOutput.Array(report.Step.Select(point => new JsonObject
        {
            ["seconds"] = Numbers.Json(point.Seconds, 5),
            ["gainDb"] = Numbers.Json(point.GainDb, 4),
        }));
        json["noiseFloorDbfs"] = Numbers.Json(report.NoiseFloorDbfs, 2);
        if (report.Decay is { } decay)
        {
            json["decay"] = Json(decay);
        }

        json["nanosecondsPerFrame"] = Numbers.Json(report.NanosecondsPerFrame, 2);
        json["nanosecondsPerFrameIn64"] = Numbers.Json(report.NanosecondsPerFrameShort, 2);
    }

    /// <summary>Writes the measurement for people.</summary>
    public static void Write(TextWriter output, ProbeReport report)
    {
        output.WriteLine($"Gain in dB over frequency, tones of {Numbers.Text(report.ResponseLevelDbfs, 0)} dBFS");
        output.Write(TerminalPlot.Response([.. report.Response.Select(point => (point.FrequencyHz, point.GainDb))]));
        output.WriteLine();
        output.WriteLine($"Output in dBFS over input, tone of {report.LevelFrequencyHz:0} Hz");
        output.Write(TerminalPlot.Levels([.. report.Levels.Select(point => (point.InputDbfs, point.OutputDbfs))]));
        output.WriteLine();
        WriteHarmonics(output, report);
        output.WriteLine();
        WriteStep(output, report);
        output.WriteLine($"with silence in: {(double.IsFinite(report.NoiseFloorDbfs) ? $"{Numbers.Text(report.NoiseFloorDbfs, 1)} dBFS come out" : "silence comes out")}");
        if (report.Decay is { } decay)
        {
            Write(output, decay);
        }

        output.WriteLine($"cost: {Numbers.Text(report.NanosecondsPerFrame, 1)} ns a stereo frame in blocks of 512, {Numbers.Text(report.NanosecondsPerFrameShort, 1)} ns in blocks of 64: {Numbers.Text(report.NanosecondsPerFrame * report.SampleRate / 1e7, 2)} % of a core");
    }

    private static JsonObject Json(DecayReport decay) => new()
    {
        ["octaves"] = JsonOutput.Array(decay.Octaves.Select(octave => new JsonObject
        {
            ["frequencyHz"] = octave.FrequencyHz,
            ["seconds"] = Numbers.Json(octave.Seconds, 4),
        })),
        ["echoDensity"] = JsonOutput.Array(decay.EchoDensity.Select(point => new JsonObject
        {
            ["seconds"] = Numbers.Json(point.Seconds, 4),
            ["density"] = Numbers.Json(point.Density, 3),
        })),
        ["denseFromSeconds"] = decay.DenseFromSeconds is { } dense ? Numbers.Json(dense, 4) : null,
        ["modesPerHertz"] = decay.ModesPerHertz is { } modes ? Numbers.Json(modes, 4) : null,
        ["modesNeededPerHertz"] = Numbers.Json(decay.ModesNeededPerHertz, 4),
    };

    private static void Write(TextWriter output, DecayReport decay)
    {
        output.WriteLine($"falls by 60 dB in: {string.Join(", ", decay.Octaves.Select(octave => $"{Numbers.Text(octave.Seconds * 1000, 0)} ms at {octave.FrequencyHz:0} Hz"))} (T20, ISO 3382)");
        string dense = decay.DenseFromSeconds is { } from ? $"as dense as noise from {Numbers.Text(from * 1000, 0)} ms on" : "never as dense as noise in 200 ms";
        output.WriteLine($"echo density beside noise: {string.Join(", ", decay.EchoDensity.Take(5).Select(point => $"{Numbers.Text(point.Density, 2)} at {Numbers.Text(point.Seconds * 1000, 0)} ms"))}; {dense}");
        if (decay.ModesPerHertz is { } modes)
        {
            output.WriteLine($"modes: {Numbers.Text(modes, 2)} a hertz; {Numbers.Text(decay.ModesNeededPerHertz, 2)} are enough for none to ring alone");
        }
    }

    private static void WriteHarmonics(TextWriter output, ProbeReport report)
    {
        output.WriteLine("Harmonics in dB below the fundamental, over input level");
        TextTable table = new(["input dBFS", .. report.Levels[0].HarmonicsDb.Select((_, index) => $"{index + 2}")]);
        foreach (LevelPoint point in report.Levels.Where(point => HarmonicLevels.Contains(point.InputDbfs)))
        {
            table.Add([Numbers.Text(point.InputDbfs, 0), .. point.HarmonicsDb.Select(level => level < -140 ? "–" : Numbers.Text(level, 1))]);
        }

        table.WriteTo(output);
    }

    private static void WriteStep(TextWriter output, ProbeReport report)
    {
        double low = report.Step.Last(point => point.Seconds < -0.01).GainDb;
        double high = report.Step.Last(point => point.Seconds < 0.99).GainDb;
        string text = Math.Abs(high - low) < 0.1
            ? $"the gain stays at {Numbers.Text(low, 2)} dB"
            : $"the gain goes from {Numbers.Text(low, 2)} to {Numbers.Text(high, 2)} dB, nine tenths of it in {Ninety(report.Step, 0, low, high)}; back in {Ninety(report.Step, 1, high, low)}";
        output.WriteLine($"when the level steps from −30 to −6 dBFS for a second: {text}");
    }

    private static string Ninety(IReadOnlyList<StepPoint> step, double from, double start, double end)
    {
        double threshold = start + 0.9 * (end - start);
        StepPoint? reached = step.Where(point => point.Seconds >= from && (point.GainDb - threshold) * (end - start) >= 0).Cast<StepPoint?>().FirstOrDefault();
        return reached is { } point ? $"{Numbers.Text((point.Seconds - from) * 1000, 0)} ms" : "more than a second";
    }
}
