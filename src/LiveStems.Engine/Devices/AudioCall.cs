using System.Diagnostics;
using System.Runtime;

namespace LiveStems.Engine.Devices;

/// <summary>One request of a device for sound, timed, and silent if the renderer throws.</summary>
internal static class AudioCall
{
    internal static void Run(IAudioRenderer renderer, Span<float> left, Span<float> right, int sampleRate, AudioStatistics statistics)
    {
        long compiled = JitInfo.GetCompiledMethodCount(currentThread: true);
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

        RenderedElsewhere elsewhere = renderer.TakeElsewhere();
        statistics.AddCall(Stopwatch.GetTimestamp() - start + elsewhere.Ticks, left.Length, sampleRate);
        statistics.AddCompiledMethods(JitInfo.GetCompiledMethodCount(currentThread: true) - compiled + elsewhere.CompiledMethods);
        if (elsewhere.HasHole)
        {
            statistics.AddUnderrun();
        }
    }
}
