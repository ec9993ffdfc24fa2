using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>How a string is made, plucked and picked up.</summary>
/// <param name="DecaySeconds">Time to −60 dB of the fundamental while it is let ring.</param>
/// <param name="ReleaseSeconds">Time to −60 dB once it is damped.</param>
/// <param name="Damping">Loss of high partials at each round trip, 0 to 1.</param>
/// <param name="PluckPosition">Where it is plucked, as a share of its length.</param>
/// <param name="PickupPosition">Where it is heard, as a share of its length; 0 for none.</param>
/// <param name="BrightnessHertz">Frequency above which a pluck has less and less.</param>
/// <param name="Roughness">Share of noise in the pluck, 0 to 1.</param>
internal readonly record struct StringSettings(
    double DecaySeconds,
    double ReleaseSeconds,
    double Damping,
    double PluckPosition,
    double PickupPosition,
    double BrightnessHertz,
    double Roughness);

/// <summary>
/// A plucked string: K. Karplus, A. Strong, "Digital synthesis of plucked-string and drum timbres", CMJ 7(2), 1983, with
/// the tuning, decay and pick-position extensions of D. Jaffe, J. Smith, "Extensions of the Karplus-Strong
/// plucked-string algorithm", same issue. The delay is read by third-order Lagrange interpolation.
/// </summary>
internal sealed class PluckedString(int sampleRate)
{
    private const int Size = 4096;
    private const int Mask = Size - 1;
    private const int Interval = 16;
    private readonly float[] line = new float[Size];

    /// <summary>Adds one note to a run of samples that begins at the pluck.</summary>
    /// <param name="output">Track from the pluck on.</param>
    /// <param name="heldSeconds">Time until it is damped.</param>
    /// <param name="hertz">Pitch.</param>
    /// <param name="velocity">How hard, 0 to 1: louder and brighter.</param>
    /// <param name="settings">The string.</param>
    /// <param name="seed">Irregularities of this pluck.</param>
    /// <param name="bend">Pitch ratio at a time in seconds after the pluck, or null.</param>
    public void Pluck(
        Span<float> output,
        double heldSeconds,
        double hertz,
        double velocity,
        in StringSettings settings,
        uint seed,
        Func<double, double>? bend = null)
    {
        Array.Clear(line);
        int held = (int)(heldSeconds * sampleRate);
        int frames = Math.Min(output.Length, held + (int)(settings.ReleaseSeconds * sampleRate));
        int excited = Excite(hertz, velocity, settings, seed);
        double smoothing = settings.Damping;
        (double phaseDelay, double loss) = Response(smoothing, hertz);
        float keep = (float)(1 - smoothing);
        float smooth = (float)smoothing;
        float gain = Gain(settings.DecaySeconds, hertz, loss);
        float release = Gain(settings.ReleaseSeconds, hertz, loss);
        float pickup = settings.PickupPosition > 0 ? 0.9f : 0;
        float filtered = 0;
        double delay = 0;
        int pickupDelay = 0;
        float a = 0, b = 0, c = 0, d = 0;
        int whole = 0;
        for (int i = 0; i < frames; i++)
        {
            if (i % Interval == 0)
            {
                double seconds = (double)i / sampleRate;
                double ratio = bend?.Invoke(seconds) ?? 1 + 0.004 * velocity * Math.Exp(-seconds / 0.06);
                delay = sampleRate / (hertz * ratio) - phaseDelay;
                whole = (int)delay - 1;
                pickupDelay = (int)(delay * settings.PickupPosition);
                (a, b, c, d) = Lagrange(delay - whole);
                if (i >= held)
                {
                    gain = release;
                }
            }

            int at = i - whole;
            float back = a * line[at & Mask] + b * line[(at - 1) & Mask] + c * line[(at - 2) & Mask] + d * line[(at - 3) & Mask];
            filtered = keep * back + smooth * filtered;
            float next = gain * filtered + (i < excited ? line[i & Mask] : 0);
            line[i & Mask] = next;
            output[i] += next - pickup * line[(i - pickupDelay) & Mask];
        }
    }

    // The pluck is written into the line ahead of the loop: a string drawn into two straight pieces pushes the bridge with
    // a rectangular wave whose duty is where it was drawn, smoothed by how soft the finger or pick is.
    private int Excite(double hertz, double velocity, in StringSettings settings, uint seed)
    {
        var noise = new Noise(seed);
        double period = sampleRate / hertz;
        int frames = (int)period;
        int second = Math.Max(1, (int)(period * settings.PluckPosition));
        double brightness = settings.BrightnessHertz * (0.45 + 0.75 * velocity);
        float share = (float)(1 - Math.Exp(-2 * Math.PI * brightness / sampleRate));
        float low = -(float)second / (frames - second);
        float level = (float)(0.5 * velocity / Math.Sqrt(-low));
        float once = 0;
        float twice = 0;
        double sum = 0;
        for (int i = 0; i < frames; i++)
        {
            float pulse = (i < second ? 1 : low) + (float)settings.Roughness * noise.Next();
            once += share * (pulse - once);
            twice += share * (once - twice);
            line[i] = level * twice;
            sum += line[i];
        }

        float mean = (float)(sum / frames);
        for (int i = 0; i < frames; i++)
        {
            line[i] -= mean;
        }

        return frames;
    }

    private static float Gain(double decaySeconds, double hertz, double loss) =>
        (float)Math.Min(0.99995, Math.Pow(10, -3 / (decaySeconds * hertz)) / loss);

    // Delay and magnitude of the one-pole loss filter (1 − s) / (1 − s z⁻¹).
    private (double Delay, double Loss) Response(double smoothing, double hertz)
    {
        double omega = 2 * Math.PI * hertz / sampleRate;
        double real = 1 - smoothing * Math.Cos(omega);
        double imaginary = smoothing * Math.Sin(omega);
        return (Math.Atan2(imaginary, real) / omega, (1 - smoothing) / Math.Sqrt(real * real + imaginary * imaginary));
    }

    // Weights for a delay of t = 1 to 2 within the four points 0, 1, 2, 3.
    private static (float A, float B, float C, float D) Lagrange(double t) => (
        (float)(-(t - 1) * (t - 2) * (t - 3) / 6),
        (float)(t * (t - 2) * (t - 3) / 2),
        (float)(-t * (t - 1) * (t - 3) / 2),
        (float)(t * (t - 1) * (t - 2) / 6));
}
