using LiveStems.Engine.RealTime;
using LiveStems.Engine.RealTime.Steps;

namespace LiveStems.Engine.Planning;

/// <summary>
/// Stems that processors on other paths listen to. A key is the stem as it enters its own chain, so keys can never form
/// a circle.
/// </summary>
internal sealed class KeySources(int maximumFrames)
{
    private readonly Dictionary<string, StereoBuffer> sources = new(StringComparer.Ordinal);

    /// <summary>Declares a stem that is listened to; its sound is copied here before any chain runs.</summary>
    public void Add(string stem, StereoBuffer input, List<PlanStep> head)
    {
        StereoBuffer copy = new(maximumFrames);
        sources.Add(stem, copy);
        head.Add(new CopyStep(input, copy, 0));
    }

    /// <summary>The key delayed to a place with that much latency behind it; null for a stem that is not there.</summary>
    public StereoBuffer? Aligned(string stem, int latencyFrames, List<PlanStep> steps)
    {
        if (!sources.TryGetValue(stem, out StereoBuffer? source))
        {
            return null;
        }

        if (latencyFrames == 0)
        {
            return source;
        }

        StereoBuffer aligned = new(maximumFrames);
        steps.Add(new CopyStep(source, aligned, latencyFrames));
        return aligned;
    }
}
