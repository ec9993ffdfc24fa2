using LiveStems.Dsp;

namespace LiveStems.Analysis.Comparing;

/// <summary>Level of second · gain − first · gain.</summary>
internal sealed class DifferenceMeter(double firstGain, double secondGain)
{
    private float[] left = [];
    private float[] right = [];
    private int frames;
    private double sum;
    private double peak;
    private long count;

    /// <summary>The difference of the stretch added last, left.</summary>
    public ReadOnlySpan<float> Left => left.AsSpan(0, frames);

    /// <summary>The difference of the stretch added last, right.</summary>
    public ReadOnlySpan<float> Right => right.AsSpan(0, frames);

    /// <summary>Root mean square over both channels in dB re full scale; −∞ for none.</summary>
    public double RmsDbfs => Decibels.FromPower(count == 0 ? 0 : sum / (2 * count));

    /// <summary>The largest sample.</summary>
    public double PeakDbfs => Decibels.FromAmplitude(peak);

    /// <summary>Adds a stretch.</summary>
    public void Add(ReadOnlySpan<float> firstLeft, ReadOnlySpan<float> firstRight, ReadOnlySpan<float> secondLeft, ReadOnlySpan<float> secondRight)
    {
        frames = firstLeft.Length;
        if (left.Length < frames)
        {
            left = new float[frames];
            right = new float[frames];
        }

        for (int i = 0; i < frames; i++)
        {
            double l = secondGain * secondLeft[i] - firstGain * firstLeft[i];
            double r = secondGain * secondRight[i] - firstGain * firstRight[i];
            sum += l * l + r * r;
            peak = Math.Max(peak, Math.Max(Math.Abs(l), Math.Abs(r)));
            left[i] = (float)l;
            right[i] = (float)r;
        }

        count += frames;
    }
}
