using LiveStems.Engine.Monitor;

namespace LiveStems.Tests.Engine.Monitor;

/// <summary>Runs sound through the monitor as a device would.</summary>
internal static class MonitorRun
{
    /// <summary>Nothing switched on, nothing turned down.</summary>
    public static MonitorSettings Plain { get; } = new() { IsDimmed = false };

    /// <summary>A monitor that has these settings from its first frame.</summary>
    public static MonitorPath With(MonitorSettings settings, int sampleRate = 48_000)
    {
        MonitorPath path = new(sampleRate);
        path.Post(settings);
        path.Reset();
        return path;
    }

    /// <summary>Output for a sound; before each block the control thread may post.</summary>
    public static (float[] Left, float[] Right) Through(
        MonitorPath path, float[] left, float[] right, int blockFrames = 64, Func<int, MonitorSettings?>? post = null)
    {
        float[] outLeft = [.. left];
        float[] outRight = [.. right];
        for (int start = 0; start < left.Length; start += blockFrames)
        {
            if (post?.Invoke(start) is { } settings)
            {
                path.Post(settings);
            }

            int frames = Math.Min(blockFrames, left.Length - start);
            path.Process(outLeft.AsSpan(start, frames), outRight.AsSpan(start, frames));
        }

        return (outLeft, outRight);
    }
}
