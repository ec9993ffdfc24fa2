using LiveStems.Dsp;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// Finds dropouts in one channel: runs of exact zeros with sound on both sides, where at least one side breaks off
/// abruptly. Pauses, fades and gates that close over a few milliseconds are none of them.
/// </summary>
/// <remarks>
/// A side sounds when the 256 samples next to the run do and the nearest 12 have their share of it; it breaks off when these
/// have a large share, or when the sample at the run is larger than any usual step beside it. After a fade the nearest hold
/// next to nothing, and the sample at the run is one step: a fade to nothing grows from there like t or faster. A low wave
/// that happens to cross zero there is told from a fade by its steepness: it is as steep as anywhere. No gate closes and
/// opens within 5 ms, so there that is enough for an abrupt side. Lengths and levels: common practice.
/// </remarks>
internal sealed class DropoutScan(int channel, EventList found)
{
    private const int ShortestRun = 8;
    private const int NearSamples = 12;
    private const int FarSamples = 256;
    private const double AbruptShare = 0.15;
    private const double SoundingShare = 0.03;
    private const double StepsOfAnEdge = 2.5;
    private const double SteepShare = 0.7;
    private const int ShorterThanAnyGate = 240;
    private static readonly double LeastLevel = Decibels.ToAmplitude(-54);

    // Two steps of 16 bits: less is what has died away.
    private static readonly double LeastNear = Decibels.ToAmplitude(-84);

    private readonly float[] before = new float[FarSamples];
    private readonly float[] after = new float[FarSamples];
    private int beforeCount;
    private int afterCount;
    private long runStart = -1;
    private long runLength;
    private bool isWaiting;
    private Side sideBefore;

    /// <summary>Adds samples of the channel.</summary>
    public void Add(ReadOnlySpan<float> samples, long firstFrame)
    {
        for (int n = 0; n < samples.Length; n++)
        {
            float sample = samples[n];
            if (sample == 0)
            {
                Zero(firstFrame + n);
            }
            else
            {
                Sound(sample);
            }
        }
    }

    /// <summary>Judges a run that the end of the file cut short of samples after it.</summary>
    public void Finish()
    {
        if (isWaiting && afterCount >= NearSamples)
        {
            Judge();
        }
    }

    private void Zero(long frame)
    {
        if (isWaiting)
        {
            // A zero or two in passing belong to the sound; a new run ends the look at what follows the last one.
            if (afterCount >= FarSamples / 2)
            {
                Judge();
            }
            else if (afterCount < NearSamples)
            {
                runLength = frame - runStart + 1;
                afterCount = 0;
                return;
            }
            else
            {
                after[afterCount++] = 0;
                JudgeWhenFull();
            }
        }

        if (runStart < 0)
        {
            runStart = frame;
            runLength = 0;
        }

        runLength++;
        if (runLength == ShortestRun)
        {
            sideBefore = SideOf(before, beforeCount, newestLast: true);
        }
    }

    private void Sound(float sample)
    {
        if (isWaiting)
        {
            after[afterCount++] = sample;
            JudgeWhenFull();
        }
        else if (runStart >= 0)
        {
            if (runLength >= ShortestRun && sideBefore.IsSounding)
            {
                isWaiting = true;
                afterCount = 0;
                after[afterCount++] = sample;
            }
            else
            {
                runStart = -1;
            }
        }

        before[beforeCount++ % FarSamples] = sample;
        if (beforeCount >= 2 * FarSamples)
        {
            beforeCount -= FarSamples;
        }
    }

    private void JudgeWhenFull()
    {
        if (afterCount == FarSamples)
        {
            Judge();
        }
    }

    private void Judge()
    {
        Side sideAfter = SideOf(after, afterCount, newestLast: false);
        bool isAbrupt = sideAfter.IsAbrupt || sideBefore.IsAbrupt || (runLength < ShorterThanAnyGate && sideAfter.IsSteep && sideBefore.IsSteep);
        if (sideAfter.IsSounding && isAbrupt)
        {
            found.Add(new SoundEvent(runStart, runLength, channel, runLength));
        }

        isWaiting = false;
        runStart = -1;
        runLength = 0;
        afterCount = 0;
    }

    private static Side SideOf(float[] samples, int count, bool newestLast)
    {
        int all = Math.Min(count, FarSamples);
        if (all < 2)
        {
            return default;
        }

        Stretch stretch = default, near = default;
        float edge = newestLast ? samples[(count - 1) % FarSamples] : samples[0];
        float last = edge;
        for (int i = 0; i < all; i++)
        {
            float sample = newestLast ? samples[(count - 1 - i) % FarSamples] : samples[i];
            float step = sample - last;
            last = sample;
            stretch = new Stretch(stretch.Squares + (double)sample * sample, stretch.Steps + (double)step * step, i + 1);
            near = i < NearSamples ? stretch : near;
        }

        return new Side(near, stretch, Math.Abs(edge) >= StepsOfAnEdge * near.Step);
    }

    // Sums of squares of the samples next to the run and of the steps between them.
    private readonly record struct Stretch(double Squares, double Steps, int Count)
    {
        public double Level => Math.Sqrt(Squares / Count);

        public double Step => Count < 2 ? 0 : Math.Sqrt(Steps / (Count - 1));
    }

    private readonly record struct Side(Stretch Near, Stretch Far, bool IsEdge)
    {
        public bool IsSteep => Near.Step > 0 && Near.Step >= SteepShare * Far.Step;

        public bool IsSounding => Far.Count > 0 && Far.Level >= LeastLevel && Near.Level >= LeastNear
            && (Near.Level >= Math.Min(SoundingShare * Far.Level, LeastLevel) || IsEdge || IsSteep);

        public bool IsAbrupt => Near.Level >= AbruptShare * Far.Level || IsEdge;
    }
}
