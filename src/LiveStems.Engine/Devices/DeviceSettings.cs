using LiveStems.Dsp.Resampling;

namespace LiveStems.Engine.Devices;

/// <summary>What is wanted of a sound device.</summary>
/// <param name="SampleRate">Hertz, 8,000 to 384,000; the device may run at another.</param>
/// <param name="BufferFrames">Frames it is to ask for at a time, <see cref="LeastBufferFrames"/> to <see cref="MostBufferFrames"/>.</param>
/// <param name="BufferedSeconds">
/// Seconds of sound that wait in the device when it asks for more, where more are wanted than <see cref="UsualWaitingSeconds"/>:
/// more survives longer interruptions and answers later.
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
    /// buffers is still heard without a gap.
    /// </summary>
    public const int LeastWaitingBuffers = 3;

    /// <summary>Buffers that wait at most where no more seconds are asked for.</summary>
    public const int MostWaitingBuffers = 7;

    /// <summary>
    /// Seconds that wait where these are <see cref="LeastWaitingBuffers"/> to <see cref="MostWaitingBuffers"/> whole buffers:
    /// longer than a collection of garbage, or a machine that stands still, mostly holds the thread, and no longer than a
    /// picture at 30 a second and a usual buffer take.
    /// </summary>
    public const double UsualWaitingSeconds = 0.0375;

    private const double MostBufferedSeconds = 2;

    /// <summary>Buffers of sound that wait in a device of this rate, in hertz, when it asks for more.</summary>
    public int WaitingBuffers(double deviceRate) => Math.Max(
        (int)Math.Ceiling((BufferedSeconds * deviceRate / BufferFrames) - 1e-9),
        Math.Clamp((int)(UsualWaitingSeconds * deviceRate / BufferFrames), LeastWaitingBuffers, MostWaitingBuffers));

    /// <summary>The same in seconds.</summary>
    public double WaitingSeconds(double deviceRate) => WaitingBuffers(deviceRate) * BufferFrames / deviceRate;

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
