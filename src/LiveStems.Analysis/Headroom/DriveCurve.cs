using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Processing.Catalogue;

namespace LiveStems.Analysis.Headroom;

/// <summary>
/// How a song's loudness grows with the work of its limiter when it is driven harder: measured, half a decibel of drive
/// apart, as far as it is asked for.
/// </summary>
/// <param name="limiter">The limiter's settings.</param>
/// <param name="path">The sound that reaches it.</param>
/// <param name="present">The figures at the present setting.</param>
/// <param name="catalogue">Where processors come from.</param>
/// <param name="cancellation">Stops between two blocks.</param>
internal sealed class DriveCurve(ChainSlot limiter, string path, HeadroomFigures present, ProcessorCatalogue catalogue, CancellationToken cancellation)
{
    private const double StepDb = 0.5;
    private const int FarthestSteps = 24;
    private const double IdleDb = 0.001;

    private readonly Lock gate = new();
    private readonly Dictionary<int, HeadroomFigures> points = new() { [0] = present };

    /// <summary>
    /// How much louder the one side comes out than the other, this curve's song driven until its limiter works as much as
    /// the other's does at its present setting, in LU. Where neither limiter has work to do, the distance of the peaks
    /// counts instead.
    /// </summary>
    public double LouderThan(HeadroomFigures other)
    {
        if (present.MeanReductionDb < IdleDb && other.MeanReductionDb < IdleDb)
        {
            return other.TruePeakDbtp - present.TruePeakDbtp + present.IntegratedLufs - other.IntegratedLufs;
        }

        return LoudnessAtWork(other.MeanReductionDb) - other.IntegratedLufs;
    }

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

    private HeadroomFigures At(int step)
    {
        lock (gate)
        {
            if (!points.TryGetValue(step, out HeadroomFigures? figures))
            {
                figures = points[step] = Measure(step * StepDb);
            }

            return figures;
        }
    }

    private HeadroomFigures Measure(double driveDb)
    {
        using StoredSound sound = new(path, BusTrial.BlockFrames);
        LimiterTrial trial = new(limiter, driveDb, catalogue, sound.SampleRate);
        for (long left = sound.Frames; left > 0; left -= BusTrial.BlockFrames)
        {
            cancellation.ThrowIfCancellationRequested();
            int frames = (int)Math.Min(left, BusTrial.BlockFrames);
            sound.Read(frames);
            trial.Add(sound.Left.AsSpan(0, frames), sound.Right.AsSpan(0, frames));
        }

        return trial.Finish();
    }
}
