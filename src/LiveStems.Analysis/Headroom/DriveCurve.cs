using System.Collections.Concurrent;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// How a song's loudness grows with the work of its limiter when it is driven harder: measured, half a decibel of drive
/// apart, as far as it is asked for.
/// </summary>
/// <param name="limiter">The limiter's settings.</param>
/// <param name="find">Gives the sound that reaches it, when it is needed for the first time.</param>
/// <param name="present">The figures at the present setting.</param>
/// <param name="known">Points that are known already: half decibels of drive, and figures.</param>
/// <param name="countedFrames">Frames to the end of the longest stem.</param>
/// <param name="catalogue">Where processors come from.</param>
/// <param name="cancellation">Stops between two blocks.</param>
internal sealed class DriveCurve(
    ChainSlot limiter, Func<string> find, HeadroomFigures present, IReadOnlyDictionary<int, HeadroomFigures> known, long countedFrames, ProcessorCatalogue catalogue, CancellationToken cancellation)
{
    /// <summary>Distance of two points in dB of drive.</summary>
    public const double StepDb = 0.5;

    private const int FarthestSteps = 24;
    private const double IdleDb = 0.001;
    private const int BlockFrames = 2048;

    private readonly Lazy<string> path = new(find);
    private readonly ConcurrentDictionary<int, Lazy<HeadroomFigures>> points =
        new(known.Select(point => KeyValuePair.Create(point.Key, new Lazy<HeadroomFigures>(point.Value))));

    /// <summary>The points that are known by now, in the order of their drive.</summary>
    public IReadOnlyDictionary<int, HeadroomFigures> Points =>
        new SortedDictionary<int, HeadroomFigures>(points.Where(point => point.Value.IsValueCreated).ToDictionary(point => point.Key, point => point.Value.Value));

    /// <summary>
    /// How much louder the one side comes out than the other, this curve's song driven until its limiter works as much as
    /// the other's does at its present setting, in LU. Where neither limiter has work to do, the distance of the peaks
    /// counts instead.
    /// </summary>
    public double LouderThan(HeadroomFigures other) => IsIdleBeside(other)
        ? other.TruePeakDbtp - present.TruePeakDbtp + present.IntegratedLufs - other.IntegratedLufs
        : LoudnessAtWork(other.MeanReductionDb) - other.IntegratedLufs;

    /// <summary>Measures what is needed to compare with a song, so that <see cref="LouderThan"/> finds it; may run on several threads.</summary>
    public void Reach(HeadroomFigures other)
    {
        if (!IsIdleBeside(other))
        {
            _ = LoudnessAtWork(other.MeanReductionDb);
        }
    }

    private bool IsIdleBeside(HeadroomFigures other) => present.MeanReductionDb < IdleDb && other.MeanReductionDb < IdleDb;

    private double LoudnessAtWork(double workDb)
    {
        int direction = workDb > present.MeanReductionDb ? 1 : -1;
        HeadroomFigures near = present;
        for (int step = direction; Math.Abs(step) <= FarthestSteps; step += direction)
        {
            HeadroomFigures far = At(step);
            if ((far.MeanReductionDb - workDb) * direction >= 0)
            {
                double span = far.MeanReductionDb - near.MeanReductionDb;
                double share = span == 0 ? 0 : (workDb - near.MeanReductionDb) / span;
                return near.IntegratedLufs + share * (far.IntegratedLufs - near.IntegratedLufs);
            }

            near = far;
        }

        return near.IntegratedLufs;
    }

    private HeadroomFigures At(int step) => points.GetOrAdd(step, at => new Lazy<HeadroomFigures>(() => Measure(at * StepDb))).Value;

    private HeadroomFigures Measure(double driveDb)
    {
        using StoredSound sound = new(path.Value, BlockFrames);
        LimiterTrial trial = new(limiter, driveDb, catalogue, sound.SampleRate, countedFrames);
        for (long left = sound.Frames; left > 0; left -= BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, BlockFrames);
            sound.Read(frames);
            trial.Add(sound.Left.AsSpan(0, frames), sound.Right.AsSpan(0, frames));
        }

        return trial.Finish();
    }
}
