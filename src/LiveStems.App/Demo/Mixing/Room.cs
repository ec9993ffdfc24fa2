using LiveStems.Dsp;

namespace LiveStems.App.Demo.Mixing;

/// <summary>A room's sound.</summary>
/// <param name="DecaySeconds">Time to −60 dB at low frequencies.</param>
/// <param name="Size">Mean path, 1 is a mid-sized hall.</param>
/// <param name="PreDelayMs">Time before the first reflection.</param>
/// <param name="DampingHz">Frequency above which the tail dies sooner.</param>
/// <param name="LowCutHz">High-pass of what goes in.</param>
internal readonly record struct RoomSettings(
    double DecaySeconds, double Size, double PreDelayMs, double DampingHz, double LowCutHz);

/// <summary>
/// Feedback delay network of eight lines with a Hadamard matrix (J.-M. Jot, A. Chaigne, "Digital delay networks for
/// designing artificial reverberators", AES 90th Convention, 1991); left feeds the even lines, right the odd ones.
/// </summary>
internal static class Room
{
    private const int Lines = 8;
    private const float Root = 0.35355339f;

    // Keeps silence off subnormal numbers.
    private const float Tiny = 1e-18f;

    // Milliseconds at size 1, far from simple ratios of each other.
    private static readonly double[] LineMs = [41.3, 46.9, 53.7, 59.3, 66.1, 71.9, 79.7, 87.1];

    public static StereoTrack AddRoom(this StereoTrack track, in RoomSettings settings, double gainDb) =>
        track.Add(Render(track, settings), gainDb);

    /// <summary>The room alone, without the direct sound.</summary>
    public static StereoTrack Render(StereoTrack source, in RoomSettings settings)
    {
        var wet = new StereoTrack(source.Frames, source.SampleRate);
        int preDelay = (int)(settings.PreDelayMs * source.SampleRate / 1000);
        Biquad lowCutLeft = Biquad.HighPass(settings.LowCutHz, 0.7, source.SampleRate);
        Biquad lowCutRight = lowCutLeft;
        var diffuserLeft = new Diffuser(source.SampleRate, settings.Size, 1);
        var diffuserRight = new Diffuser(source.SampleRate, settings.Size, 1.09);
        Span<int> lengths = stackalloc int[Lines];
        Span<float> gains = stackalloc float[Lines];
        Span<float> damped = stackalloc float[Lines];
        Span<float> lines = stackalloc float[Lines];
        for (int i = 0; i < Lines; i++)
        {
            double seconds = LineMs[i] * settings.Size / 1000;
            lengths[i] = (int)(seconds * source.SampleRate) | 1;
            gains[i] = (float)Math.Pow(10, -3 * seconds / settings.DecaySeconds);
        }

        const int Mask = (1 << 13) - 1;
        float[] memory = new float[Lines * (Mask + 1)];
        float damping = (float)(1 - Math.Exp(-2 * Math.PI * settings.DampingHz / source.SampleRate));
        damped.Clear();
        for (int frame = preDelay; frame < source.Frames; frame++)
        {
            float left = diffuserLeft.Next((float)lowCutLeft.Next(source.Left[frame - preDelay] + Tiny), frame);
            float right = diffuserRight.Next((float)lowCutRight.Next(source.Right[frame - preDelay] + Tiny), frame);
            for (int i = 0; i < Lines; i++)
            {
                float end = memory[(i << 13) + ((frame - lengths[i]) & Mask)];
                damped[i] += damping * (end - damped[i]);
                lines[i] = damped[i] * gains[i];
            }

            wet.Left[frame] = 0.5f * (lines[0] - lines[2] + lines[4] - lines[6]);
            wet.Right[frame] = 0.5f * (lines[1] - lines[3] + lines[5] - lines[7]);
            Hadamard(lines);
            for (int i = 0; i < Lines; i++)
            {
                memory[(i << 13) + (frame & Mask)] = lines[i] * Root + ((i & 1) == 0 ? left : right) + Tiny;
            }
        }

        return wet;
    }

    private static void Hadamard(Span<float> x)
    {
        for (int half = 1; half < Lines; half <<= 1)
        {
            for (int i = 0; i < Lines; i++)
            {
                if ((i & half) == 0)
                {
                    float a = x[i];
                    float b = x[i + half];
                    x[i] = a + b;
                    x[i + half] = a - b;
                }
            }
        }
    }
}
