using LiveStems.Engine.Monitor;

namespace LiveStems.Engine.Live;

/// <summary>What is not as usual about playing and listening, in the same words in the terminal and in the window.</summary>
public static class PlayerWords
{
    // Less is written as 0.0.
    private const double LeastReductionDb = 0.05;

    /// <summary>What the listener must know to trust what is heard, the worst first.</summary>
    public static IEnumerable<StateWords> Warnings(PlayerState state)
    {
        if (state.LoadLevel == LoadLevel.Faded)
        {
            yield return new("OVERLOAD: faded out, tries again", "OVERLOAD");
        }

        if (state.LateStems.Count > 0)
        {
            yield return new($"late from disk: {string.Join(", ", state.LateStems)}", $"late: {state.LateStems.Count}");
        }

        if (state.SafetyReductionDb >= LeastReductionDb)
        {
            string reduction = FormattableString.Invariant($"−{state.SafetyReductionDb:0.0}");
            yield return new($"safety limiter {reduction} dB", $"safety {reduction}");
        }

        if (state.NonFiniteSamples > 0)
        {
            yield return new($"{state.NonFiniteSamples} sample{Plural(state.NonFiniteSamples)} not finite", $"{state.NonFiniteSamples} not finite");
        }

        if (state.MissedFrames > 0)
        {
            yield return new($"{state.MissedFrames} frame{Plural(state.MissedFrames)} late from disk", $"{state.MissedFrames} late");
        }
    }

    /// <summary>What is not measured or drawn, because rendering takes too much of its time; null where everything is.</summary>
    /// <param name="level">What is left out.</param>
    /// <param name="hasCurves">True where curves that are left out would be seen too.</param>
    public static StateWords? LeftOut(LoadLevel level, bool hasCurves) => level switch
    {
        LoadLevel.Everything => null,
        >= LoadLevel.WithoutViews when hasCurves => new("meters and curves off: overload", "no meters, no curves"),
        _ => new("meters off: overload", "no meters"),
    };

    /// <summary>What is heard in place of both sides of the music as they are.</summary>
    public static IEnumerable<StateWords> Listening(MonitorSettings monitor)
    {
        if (monitor.Signal != MonitorSignal.Music)
        {
            string signal = monitor.Signal == MonitorSignal.Tone ? "tone" : "pink noise";
            yield return new(signal, signal);
        }

        if (monitor.Channels != MonitorChannels.Stereo)
        {
            string channels = monitor.Channels == MonitorChannels.Mono ? "mono" : "side";
            yield return new(channels, channels);
        }

        if (monitor.IsSwapped)
        {
            yield return new("swapped", "swap");
        }
    }

    private static string Plural(long count) => count == 1 ? string.Empty : "s";
}
