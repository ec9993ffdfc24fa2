using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;

namespace LiveStems.Tests.Nets;

/// <summary>Settings with which every processor has something to do on a sound of some −12 dBFS.</summary>
internal static class ActingSettings
{
    private static readonly Dictionary<string, (string Id, double Value)[]> Of = new()
    {
        ["compressor"] = [("thresholdDb", -36), ("ratio", 4)],
        ["de-esser"] = [("frequencyHz", 2500), ("thresholdDb", -20)],
        ["equaliser"] =
        [
            ("band1.shape", 0), ("band1.frequencyHz", 610), ("band1.gainDb", 9), ("band1.dynamic", 1), ("band1.thresholdDb", -30),
            ("band2.on", 1), ("band2.frequencyHz", 2000), ("band2.gainDb", -9),
        ],
        ["expander"] = [("thresholdDb", -3), ("ratio", 3)],
        ["limiter"] = [("inputGainDb", 12)],
        ["room"] = [("wetPercent", 40)],
        ["saturator"] = [("driveDb", 12)],
        ["soft-clipper"] = [("inputGainDb", 9), ("thresholdDb", -6)],
        ["transient-shaper"] = [("attackDb", 6), ("sustainDb", 6)],
        ["width"] = [("monoBelow", 1)],
    };

    /// <summary>The settings that are not defaults.</summary>
    public static (string Id, double Value)[] For(string id) => Of.GetValueOrDefault(id, []);

    /// <summary>A processor that acts, prepared.</summary>
    public static Processor Prepared(string id, int sampleRate)
    {
        Processor processor = BuiltInProcessors.Catalogue.Create(id)!;
        foreach ((string parameter, double value) in For(id))
        {
            processor.SetParameter(processor.Description.IndexOf(parameter), value);
        }

        processor.Prepare(new ProcessingFormat(sampleRate, 8192));
        return processor;
    }

    /// <summary>Processes a stereo sound in place.</summary>
    public static void Run(Processor processor, Span<float> left, Span<float> right)
    {
        for (int start = 0; start < left.Length; start += 480)
        {
            int frames = Math.Min(480, left.Length - start);
            processor.Process(new StereoBlock(left.Slice(start, frames), right.Slice(start, frames)));
        }
    }
}
