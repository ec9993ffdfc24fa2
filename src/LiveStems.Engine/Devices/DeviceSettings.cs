using LiveStems.Dsp.Resampling;

namespace LiveStems.Engine.Devices;

/// <summary>What is wanted of a sound device.</summary>
/// <param name="SampleRate">Hertz, 8,000 to 384,000; the device may run at another.</param>
/// <param name="BufferFrames">Frames it is to ask for at a time, <see cref="LeastBufferFrames"/> to <see cref="MostBufferFrames"/>.</param>
/// <param name="BufferedSeconds">
/// Seconds of sound that wait in the device when it asks for more: more survives longer interruptions and answers later. At
/// least <see cref="LeastWaitingBuffers"/> buffers wait.
/// </param>
public sealed record DeviceSettings(int SampleRate, int BufferFrames = DeviceSettings.UsualBufferFrames, double BufferedSeconds = 0)
{
    /// <summary>The shortest buffer.</summary>
    public const int LeastBufferFrames = 32;

    /// <summary>The longest buffer.</summary>
    public const int MostBufferFrames = 4096;

    /// <summary>The buffer if nothing else is wanted.</summary>
    public const int UsualBufferFrames = 256;

    /// <summary>
    /// Buffers that wait in the device at least when it asks for the next: with three, one that comes late by the time of two
    /// buffers is still heard without a gap, which is longer than a collection of garbage holds the thread at the usual buffer.
    /// </summary>
    public const int LeastWaitingBuffers = 3;

    /// <summary>
    /// Seconds that wait where a window draws beside the sound and songs are changed by hand: longer than a collection of all
    /// that makes holds the thread, and no longer than a picture takes at 30 a second.
    /// </summary>
    public const double BesideWindowSeconds = 0.032;

    private const double MostBufferedSeconds = 2;

    /// <summary>Seconds of sound that wait in a device of this rate, in hertz, when it asks for more.</summary>
    public double WaitingSeconds(double deviceRate) => Math.Max(BufferedSeconds, LeastWaitingBuffers * BufferFrames / deviceRate);

    /// <summary>Refuses values out of range.</summary>
    /// <exception cref="AudioDeviceException">A value is out of range; the message names the range.</exception>
    public void Check()
    {
        if (BufferFrames is < LeastBufferFrames or > MostBufferFrames)
        {
            throw new AudioDeviceException(
                $"a buffer of {BufferFrames} frames is not possible: choose {LeastBufferFrames} to {MostBufferFrames}");
        }

        if (SampleRate is < StreamingResampler.LowestRate or > StreamingResampler.HighestRate)
        {
            throw new AudioDeviceException(
                $"a sample rate of {SampleRate} Hz is not possible: choose {StreamingResampler.LowestRate} to {StreamingResampler.HighestRate} Hz");
        }

        if (BufferedSeconds is not (>= 0 and <= MostBufferedSeconds))
        {
            throw new AudioDeviceException($"{BufferedSeconds} s of buffered sound are not possible: choose 0 to {MostBufferedSeconds} s");
        }
    }
}
