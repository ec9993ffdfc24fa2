using LiveStems.Dsp;

namespace LiveStems.App.Demo.Mixing;

/// <summary>Planar stereo sound of a whole song.</summary>
internal sealed class StereoTrack(int frames, int sampleRate)
{
    public float[] Left { get; } = new float[frames];

    public float[] Right { get; } = new float[frames];

    public int SampleRate { get; } = sampleRate;

    public int Frames => Left.Length;

    /// <summary>Adds a mono track at a place from −1 (left) to 1 (right), with equal power everywhere.</summary>
    public StereoTrack Add(ReadOnlySpan<float> mono, double gainDb = 0, double pan = 0)
    {
        double angle = (pan + 1) * Math.PI / 4;
        double gain = Decibels.ToAmplitude(gainDb);
        Samples.AddScaled(Left, mono, (float)(gain * Math.Cos(angle)));
        Samples.AddScaled(Right, mono, (float)(gain * Math.Sin(angle)));
        return this;
    }

    public StereoTrack Add(StereoTrack other, double gainDb = 0)
    {
        float gain = (float)Decibels.ToAmplitude(gainDb);
        Samples.AddScaled(Left, other.Left, gain);
        Samples.AddScaled(Right, other.Right, gain);
        return this;
    }

    public StereoTrack Filter(params ReadOnlySpan<Biquad> filters)
    {
        foreach (Biquad filter in filters)
        {
            Biquad.Process(filter, Left, Right);
        }

        return this;
    }

    public StereoTrack Gain(double gainDb)
    {
        float gain = (float)Decibels.ToAmplitude(gainDb);
        Samples.Scale(Left, gain);
        Samples.Scale(Right, gain);
        return this;
    }
}
