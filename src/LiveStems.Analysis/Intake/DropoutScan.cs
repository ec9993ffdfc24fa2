using LiveStems.Dsp;

namespace LiveStems.Analysis.Intake;

/// <summary>
/// Finds dropouts in one channel: runs of exact zeros with sound on both sides, where at least one side breaks off
/// abruptly. Pauses, fades and gates that close over a few milliseconds are none of them.
/// </summary>
/// <remarks>
/// A side counts as sounding by the level of the 256 samples next to the run, and as abrupt when the nearest 12 of these
/// hold their share of it; after a fade they hold next to nothing. A low wave that happens to cross zero there is told from
/// a fade by its steepness: it is as steep as anywhere. No gate closes and opens within 5 ms, so there that is enough for an
/// abrupt side. Lengths and levels: common practice.
/// </remarks>
internal sealed class DropoutScan(int channel, EventList found)
{
    private const int ShortestRun = 8;
    private const int NearSamples = 12;
    private const int FarSamples = 256;
    private const double AbruptShare = 0.15;
    private const double SoundingShare = 0.03;
    private const double SteepShare = 0.7;
    private const int ShorterThanAnyGate = 240;
    private static readonly double LeastLevel = Decibels.ToAmplitude(-54);

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
            sideBefore = SideOf(before, beforeCount, newestLast: true);
        }

        runLength++;
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

    // Root mean squares of the samples next to the run and of all that were kept, and of the steps between them.
    private static Side SideOf(float[] samples, int count, bool newestLast)
    {
        int all = Math.Min(count, FarSamples);
        double near = 0, far = 0, nearSteps = 0, farSteps = 0;
        int nearCount = Math.Min(all, NearSamples);
        float last = 0;
        for (int i = 0; i < all; i++)
        {
            float sample = newestLast ? samples[(count - 1 - i) % FarSamples] : samples[i];
            double square = (double)sample * sample;
            double step = i == 0 ? 0 : sample - last;
            last = sample;
            far += square;
            near += i < nearCount ? square : 0;
            farSteps += step * step;
            nearSteps += i < nearCount ? step * step : 0;
        }

        return all < 2
            ? default
            : new Side(Math.Sqrt(near / nearCount), Math.Sqrt(far / all), Math.Sqrt(nearSteps / (nearCount - 1)), Math.Sqrt(farSteps / (all - 1)));
    }

    private readonly record struct Side(double Near, double Far, double NearStep, double FarStep)
    {
        public bool IsSteep => NearStep > 0 && NearStep >= SteepShare * FarStep;

        public bool IsSounding => Far >= LeastLevel && (Near >= SoundingShare * Far || IsSteep);

        public bool IsAbrupt => Near >= AbruptShare * Far;
    }
}
