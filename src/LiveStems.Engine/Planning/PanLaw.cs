using LiveStems.Albums.Model;
using LiveStems.Dsp;

namespace LiveStems.Engine.Planning;

/// <summary>Gain of each side of a stem on the song bus.</summary>
internal static class PanLaw
{
    /// <summary>A mono stem feeds both sides of its chain at this gain: the −3 dB centre of the sine/cosine law.</summary>
    public static readonly float MonoCentre = (float)Math.Sqrt(0.5);

    /// <summary>
    /// Gains after the chain. Mono: sine/cosine law relative to its centre (common practice). Stereo: balance, the far
    /// side falls with the cosine and the near side stays.
    /// </summary>
    public static (float Left, float Right) Gains(Placement placement, bool isMono)
    {
        double gain = Decibels.ToAmplitude(placement.GainDb);
        double pan = Math.Clamp(placement.Pan, -1, 1);
        if (pan == 0)
        {
            return ((float)gain, (float)gain);
        }

        if (isMono)
        {
            double angle = (pan + 1) * Math.PI / 4;
            return ((float)(gain * Math.Sqrt(2) * Math.Cos(angle)), (float)(gain * Math.Sqrt(2) * Math.Sin(angle)));
        }

        double far = gain * Math.Cos(Math.Abs(pan) * Math.PI / 2);
        return pan > 0 ? ((float)far, (float)gain) : ((float)gain, (float)far);
    }
}
