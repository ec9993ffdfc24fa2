using LiveStems.Analysis.Measuring;
using LiveStems.Conformance.Loudness;
using LiveStems.Dsp.Loudness;
using Xunit;

namespace LiveStems.Conformance.Measuring;

/// <summary>EBU Tech 3341 (2023), table 1, the cases that say how readings go over time.</summary>
public class LoudnessOverTimeTests
{
    [Fact]
    public void Case9ShortTermLoudnessStaysAtMinus23After3Seconds()
    {
        ToneProgramme programme = new(48_000);
        for (int i = 0; i < 5; i++)
        {
            programme.Tone(-20, 1.34).Tone(-30, 1.66);
        }

        (LoudnessTimeline timeline, _) = Measure(programme.Samples);
        Assert.All(timeline.Points.Where(point => point.Seconds >= 3), point => Assert.Equal(-23, point.ShortTermLufs, 0.1));
    }

    [Fact]
    public void Case12MomentaryLoudnessStaysAtMinus23After1Second()
    {
        ToneProgramme programme = new(48_000);
        for (int i = 0; i < 25; i++)
        {
            programme.Tone(-20, 0.18).Tone(-30, 0.22);
        }

        (LoudnessTimeline timeline, _) = Measure(programme.Samples);
        Assert.All(timeline.Points.Where(point => point.Seconds >= 1), point => Assert.Equal(-23, point.MomentaryLufs, 0.1));
    }

    [Fact]
    public void Case5HoldsForProgrammesInARowAsForOne()
    {
        AlbumLoudness album = new();
        double[] levels = [-26, -20, -26];
        double[] lengths = [20, 20.1, 20];
        foreach ((double level, double length) in levels.Zip(lengths))
        {
            LoudnessTimeline timeline = new(48_000, album);
            float[] samples = new ToneProgramme(48_000).Tone(level, length).Samples;
            timeline.Add(samples, samples);
        }

        Assert.Equal(-23, album.IntegratedLufs, 0.1);

        // Tech 3342: the tenth and the 95th percentile of two steady levels are these levels.
        Assert.Equal(6, album.LoudnessRangeLu, 0.1);
    }

    [Fact]
    public void PeakToShortTermRatioOfASineInPhaseIsZero()
    {
        // REFERENCES 0.2: such a sine reads its peak level in LUFS.
        (LoudnessTimeline timeline, LoudnessReport report) = Measure(new ToneProgramme(48_000).Tone(-23, 20).Samples);
        Assert.Equal(0, timeline.LowestPeakToShortTermLu, 0.1);
        Assert.Equal(0, report.PeakToLoudnessLu!.Value, 0.1);
        Assert.All(timeline.Points, point => Assert.Equal(1, point.Correlation, 1e-9));
    }

    private static (LoudnessTimeline Timeline, LoudnessReport Report) Measure(float[] samples)
    {
        LoudnessTimeline timeline = new(48_000);
        timeline.Add(samples, samples);
        return (timeline, timeline.Finish());
    }
}
