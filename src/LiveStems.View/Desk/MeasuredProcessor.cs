using LiveStems.Albums.Model;
using LiveStems.Analysis.Probe;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// What one processor does, measured from outside: whatever it is and whoever made it. What of that is worth a picture says
/// itself by the figures, not by its name.
/// </summary>
/// <param name="Levels">Output over input at 1 kHz in steps of 4 dB from −60 to 0 dBFS, and harmonics.</param>
/// <param name="Response">Gain over frequency of what is the same on both sides, in thirds of an octave from 20 Hz.</param>
/// <param name="SideResponse">Gain over frequency of what differs between the sides, in two thirds of an octave.</param>
/// <param name="Step">The gain while the level steps from −30 to −6 dBFS and, a second later, back.</param>
/// <param name="LatencyFrames">Frames between input and output.</param>
public sealed record MeasuredProcessor(
    IReadOnlyList<LevelPoint> Levels,
    IReadOnlyList<(double FrequencyHz, double GainDb)> Response,
    IReadOnlyList<(double FrequencyHz, double GainDb)> SideResponse,
    IReadOnlyList<StepPoint> Step,
    int LatencyFrames)
{
    /// <summary>Peak level in dBFS of the tone whose harmonics are shown, unless only a louder one has any.</summary>
    public const double HarmonicsDbfs = -12;

    /// <summary>The lowest level of the level curve in dBFS.</summary>
    public const double LowestDbfs = -60;

    /// <summary>Peak level in dBFS of the tones of the responses.</summary>
    public const double ResponseDbfs = -20;

    private const double LevelStepDb = 4;
    private const double LowestOutputDbfs = -120;
    private const double HighestHertz = 20_000;

    // What lies below is lost in the noise of the sound around it.
    private const double LeastHarmonicDb = -90;
    private const double LeastBendDb = 0.5;
    private const double LeastGainDb = 0.1;

    /// <summary>True when what it does depends on how loud the sound is.</summary>
    public bool ActsOnLevel { get; } = Spread(Levels.Select(point => Math.Max(point.OutputDbfs, LowestOutputDbfs) - point.InputDbfs)) > LeastBendDb;

    /// <summary>The level in dBFS at which harmonics are shown; null when it adds none.</summary>
    public double? HarmonicsAtDbfs { get; } = LevelOfHarmonics(Levels);

    /// <summary>True when its gain is another at some frequencies than at others.</summary>
    public bool ShapesFrequencies { get; } = Spread(Response.Select(point => point.GainDb)) > LeastGainDb;

    /// <summary>True when what differs between the sides is treated otherwise than what they share.</summary>
    public bool TreatsSideApart { get; } = Differs(Response, SideResponse);

    /// <summary>True when its gain moves after a step of the level.</summary>
    public bool MovesAfterStep { get; } = Spread(Step.Select(point => point.GainDb)) > LeastBendDb;

    /// <summary>Harmonics from the second on at <see cref="HarmonicsAtDbfs"/>, in dB relative to the fundamental; empty when it adds none.</summary>
    public IReadOnlyList<double> HarmonicsDb => Levels.FirstOrDefault(level => level.InputDbfs == HarmonicsAtDbfs).HarmonicsDb ?? [];

    /// <summary>Level that comes out for a level that goes in, both in dBFS, between the measured ones on straight lines.</summary>
    public double OutputDbfs(double inputDbfs)
    {
        double place = Math.Clamp((inputDbfs - LowestDbfs) / LevelStepDb, 0, Levels.Count - 1);
        int below = Math.Min((int)place, Levels.Count - 2);
        double low = Math.Max(Levels[below].OutputDbfs, LowestOutputDbfs);
        double high = Math.Max(Levels[below + 1].OutputDbfs, LowestOutputDbfs);
        return low + (place - below) * (high - low);
    }

    /// <summary>Measures a processor, listening to its own input, on the calling thread; takes up to a second.</summary>
    /// <param name="slot">The processor with its values, as if switched on.</param>
    /// <param name="sampleRate">Rate in Hz.</param>
    /// <param name="catalogue">Where processors come from.</param>
    /// <param name="cancellation">Ends it between two tones.</param>
    /// <exception cref="ProbeException">The sound passed it by, or it delivered what cannot be measured.</exception>
    /// <exception cref="Engine.Hosting.HostingException">A processor of others does not come to an end.</exception>
    /// <exception cref="OperationCanceledException">It was ended.</exception>
    public static MeasuredProcessor Measure(ChainSlot slot, int sampleRate, ProcessorCatalogue catalogue, CancellationToken cancellation)
    {
        using ProbedChain chain = new(Chain.Empty with { Slots = [slot with { Bypassed = false, KeyStem = null }] }, null, catalogue);
        ProcessorProbe probe = new(chain, sampleRate);
        List<LevelPoint> levels = [];
        for (double level = LowestDbfs; level <= 0; level += LevelStepDb)
        {
            cancellation.ThrowIfCancellationRequested();
            levels.Add(probe.MeasureAt(level));
        }

        List<(double FrequencyHz, double GainDb)> response = Respond(probe, sampleRate, 1, cancellation);
        IReadOnlyList<StepPoint> step = probe.MeasureStep();
        ThrowIfPassedBy(chain);
        List<(double FrequencyHz, double GainDb)> side = Respond(new ProcessorProbe(new ProbedSide(chain), sampleRate), sampleRate, 2, cancellation);
        ThrowIfPassedBy(chain);
        return new MeasuredProcessor(levels, response, side, step, chain.LatencyFrames);
    }

    private static void ThrowIfPassedBy(ProbedChain chain)
    {
        if (chain.PassedBy().FirstOrDefault() is { } passedBy)
        {
            // Where it stands is no news to whoever looks at it.
            throw new ProbeException(passedBy[(passedBy.IndexOf(": ", StringComparison.Ordinal) is >= 0 and var colon ? colon + 2 : 0)..]);
        }
    }

    private static List<(double FrequencyHz, double GainDb)> Respond(ProcessorProbe probe, int sampleRate, int thirds, CancellationToken cancellation)
    {
        List<(double, double)> points = [];
        double highest = Math.Min(HighestHertz, 0.45 * sampleRate) * 1.01;
        for (int third = 0; 20 * Math.Pow(2, third / 3.0) <= highest; third += thirds)
        {
            cancellation.ThrowIfCancellationRequested();
            (double frequencyHz, double gainDb) = probe.GainAt(20 * Math.Pow(2, third / 3.0), ResponseDbfs);
            points.Add((frequencyHz, Math.Max(gainDb, LowestOutputDbfs)));
        }

        return points;
    }

    private static double Spread(IEnumerable<double> values)
    {
        double[] finite = [.. values.Where(double.IsFinite)];
        return finite.Length == 0 ? 0 : finite.Max() - finite.Min();
    }

    private static double? LevelOfHarmonics(IReadOnlyList<LevelPoint> levels)
    {
        foreach (LevelPoint level in levels.Where(level => level.InputDbfs >= HarmonicsDbfs))
        {
            if (level.HarmonicsDb.Any(harmonic => harmonic > LeastHarmonicDb))
            {
                return level.InputDbfs;
            }
        }

        return null;
    }

    // Every second frequency of the one is one of the other.
    private static bool Differs(IReadOnlyList<(double FrequencyHz, double GainDb)> one, IReadOnlyList<(double FrequencyHz, double GainDb)> other)
    {
        Dictionary<double, double> known = one.ToDictionary(point => point.FrequencyHz, point => point.GainDb);
        return other.Any(point => known.TryGetValue(point.FrequencyHz, out double gainDb) && Math.Abs(gainDb - point.GainDb) > LeastGainDb);
    }
}
