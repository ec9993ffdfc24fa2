namespace LiveStems.Engine.RealTime;

/// <summary>Times that everything audible in the engine keeps to.</summary>
internal static class PlanTiming
{
    /// <summary>Length of every ramp and cross-fade.</summary>
    public const double RampSeconds = 0.010;

    /// <summary>The ramp in frames at a sample rate.</summary>
    public static int RampFrames(int sampleRate) => Math.Max(1, (int)Math.Round(RampSeconds * sampleRate));
}
