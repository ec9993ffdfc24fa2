using LiveStems.Dsp;

namespace LiveStems.App.Demo.Mixing;

/// <summary>
/// Soft clipping x/√(1+x²) with first-order antiderivative antialiasing (J. Parker, V. Zavalishin, E. Le Bivic, DAFx-16,
/// eq. 7). The antiderivative is √(1+x²), and its difference quotient has no pole: (a+b)/(√(1+a²)+√(1+b²)).
/// </summary>
internal static class Saturator
{
    // The bias makes a steady part that follows the level; a coupling capacitor at about 5 Hz takes it away.
    private const double Settling = 2 * Math.PI * 5 / 48000;

    /// <summary>
    /// Saturates in place. The gain is restored for small signals when <paramref name="driveDb"/> is low; a
    /// <paramref name="bias"/> other than 0 adds even harmonics.
    /// </summary>
    public static void Process(Span<float> samples, double driveDb, double bias = 0, double outputDb = 0)
    {
        double drive = Decibels.ToAmplitude(driveDb);
        double output = Decibels.ToAmplitude(outputDb) / Math.Min(drive, 4);
        double rest = bias / Math.Sqrt(1 + bias * bias);
        double last = bias;
        double wander = 0;
        double lastRoot = Math.Sqrt(1 + last * last);
        for (int i = 0; i < samples.Length; i++)
        {
            double next = drive * samples[i] + bias;
            double root = Math.Sqrt(1 + next * next);
            double value = (next + last) / (root + lastRoot) - rest;
            wander += Settling * (value - wander);
            samples[i] = (float)(output * (value - wander));
            last = next;
            lastRoot = root;
        }
    }

    public static StereoTrack Saturate(this StereoTrack track, double driveDb, double bias = 0, double outputDb = 0)
    {
        Process(track.Left, driveDb, bias, outputDb);
        Process(track.Right, driveDb, bias, outputDb);
        return track;
    }
}
