using LiveStems.Processing.Contract;

namespace LiveStems.Engine.Hosting;

/// <summary>
/// What a processor says of its latency. It is asked once, where it may throw or hang, and the answer is kept: code of others
/// may say something else the next time. Memory for as much is taken wherever sound must wait for it, hence a limit.
/// </summary>
public static class DeclaredLatency
{
    /// <summary>No processor may be later, in seconds.</summary>
    public const int MostSeconds = 10;

    /// <summary>Asks a prepared processor; in frames.</summary>
    /// <exception cref="HostingException">It is negative, or above <see cref="MostSeconds"/>.</exception>
    public static int Of(Processor processor, ProcessingFormat format) => Checked(processor.LatencyFrames, format);

    /// <summary>True when so many frames are a latency that the program works with.</summary>
    public static bool IsWithin(int frames, ProcessingFormat format) => frames >= 0 && frames <= (long)MostSeconds * format.SampleRate;

    /// <summary>The same number of frames where it is within the limits.</summary>
    /// <exception cref="HostingException">It is not.</exception>
    internal static int Checked(int frames, ProcessingFormat format) =>
        IsWithin(frames, format) ? frames : throw new HostingException(FaultOf(frames));

    /// <summary>What is wrong with a latency that is not within the limits.</summary>
    public static string FaultOf(int frames) => $"declares a latency of {frames} frames; from 0 to {MostSeconds} s can be compensated";
}
