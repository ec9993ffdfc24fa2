using System.Diagnostics;

namespace LiveStems.Engine.Devices;

/// <summary>One request of a device for sound, timed, and silent if the renderer throws.</summary>
internal static class AudioCall
{
    internal static void Run(IAudioRenderer renderer, Span<float> left, Span<float> right, int sampleRate, AudioStatistics statistics)
    {
        long start = Stopwatch.GetTimestamp();
        try
        {
            renderer.Render(left, right);
        }
        catch (Exception cause)
        {
            left.Clear();
            right.Clear();
            statistics.AddFault(cause);
        }

        statistics.AddCall(Stopwatch.GetTimestamp() - start, left.Length, sampleRate);
    }
}
