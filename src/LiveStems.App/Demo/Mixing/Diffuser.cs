namespace LiveStems.App.Demo.Mixing;

/// <summary>
/// Two all-pass sections in series that make many reflections of one (M. Schroeder, "Natural sounding artificial
/// reverberation", JAES 10(3), 1962).
/// </summary>
internal sealed class Diffuser
{
    private const float Share = 0.62f;
    private const int Mask = 2047;
    private readonly float[] first = new float[Mask + 1];
    private readonly float[] second = new float[Mask + 1];
    private readonly int firstLength;
    private readonly int secondLength;

    public Diffuser(int sampleRate, double size, double spread)
    {
        double scale = spread * Math.Clamp(size, 0.3, 1) * sampleRate / 1000;
        firstLength = (int)(7.3 * scale) | 1;
        secondLength = (int)(12.7 * scale) | 1;
    }

    public float Next(float input, int frame)
    {
        float delayed = first[(frame - firstLength) & Mask];
        float entering = input + Share * delayed;
        first[frame & Mask] = entering;
        float between = delayed - Share * entering;
        delayed = second[(frame - secondLength) & Mask];
        entering = between + Share * delayed;
        second[frame & Mask] = entering;
        return delayed - Share * entering;
    }
}
