using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Probe;
using LiveStems.Processing.Catalogue;

namespace LiveStems.View.Desk;

/// <summary>
/// What the selected processor does to a tone of 1 kHz, measured by the probe once its values stand still: the level that
/// comes out and the harmonics that are added. Only for processors that shape the wave itself.
/// </summary>
public sealed class ProbeModel
{
    /// <summary>Level of the tone whose harmonics are shown, as a peak in dBFS.</summary>
    public const double LevelDbfs = -12;

    private const double LowestDbfs = -60;
    private const double StepDb = 4;
    private const double QuietSeconds = 0.3;

    private static readonly string[] Shaping = ["saturator", "soft-clipper"];

    private readonly AlbumDesk desk;
    private readonly Stopwatch sinceChange = Stopwatch.StartNew();
    private Task<IReadOnlyList<LevelPoint>>? measuring;
    private ChainSlot? wanted;
    private ChainSlot? asked;

    internal ProbeModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>Counts up whenever anything was measured.</summary>
    public long Revision { get; private set; }

    /// <summary>Output over input in steps of 4 dB from −60 to 0 dBFS; empty while nothing is known of the selected processor.</summary>
    public IReadOnlyList<LevelPoint> Levels { get; private set; } = [];

    /// <summary>Harmonics from the second on, in dB relative to the fundamental; empty while nothing is known.</summary>
    public IReadOnlyList<double> HarmonicsDb => Levels.FirstOrDefault(level => level.InputDbfs == LevelDbfs).HarmonicsDb ?? [];

    /// <summary>True for a processor whose harmonics are measured.</summary>
    public static bool IsFor(ProcessorModel processor) => Shaping.Contains(processor.Slot.Processor);

    /// <summary>Level that comes out for a level that goes in, in dBFS; null while nothing is known.</summary>
    public Func<double, double>? Curve()
    {
        IReadOnlyList<LevelPoint> points = Levels;
        return points.Count < 2 ? null : input =>
        {
            double place = Math.Clamp((input - LowestDbfs) / StepDb, 0, points.Count - 1);
            int below = Math.Min((int)place, points.Count - 2);
            return points[below].OutputDbfs + (place - below) * (points[below + 1].OutputDbfs - points[below].OutputDbfs);
        };
    }

    internal void Update()
    {
        if (measuring is { IsCompleted: true } done)
        {
            measuring = null;
            if (asked == wanted && done.IsCompletedSuccessfully)
            {
                Levels = done.Result;
                Revision++;
            }
        }

        ChainSlot? now = desk.Chain.Selected is { } selected && IsFor(selected) ? selected.Slot : null;
        if (!ReferenceEquals(now, wanted))
        {
            if (now?.Id != wanted?.Id)
            {
                Levels = [];
                Revision++;
            }

            wanted = now;
            sinceChange.Restart();
        }

        if (wanted is not null && !ReferenceEquals(asked, wanted) && measuring is null && sinceChange.Elapsed.TotalSeconds > QuietSeconds)
        {
            asked = wanted;
            Chain chain = Chain.Empty with { Slots = [wanted with { Bypassed = false }] };
            int sampleRate = desk.Player.SampleRate;
            ProcessorCatalogue catalogue = desk.Catalogue;
            measuring = desk.Jobs.Beside(() => Measure(chain, sampleRate, catalogue));
        }
    }

    private static IReadOnlyList<LevelPoint> Measure(Chain chain, int sampleRate, ProcessorCatalogue catalogue)
    {
        ProcessorProbe probe = new(new ProbedChain(chain, null, catalogue), sampleRate);
        return [.. Enumerable.Range(0, (int)(-LowestDbfs / StepDb) + 1).Select(step => probe.MeasureAt(LowestDbfs + step * StepDb))];
    }
}
