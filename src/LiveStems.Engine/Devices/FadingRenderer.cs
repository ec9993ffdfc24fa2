using System.Diagnostics;
using LiveStems.Engine.RealTime;

namespace LiveStems.Engine.Devices;

/// <summary>
/// What a kept device plays: at the device's rate, faded out before the device stops, and faded in where it begins in the
/// middle of the sound.
/// </summary>
/// <param name="source">What is faded.</param>
/// <param name="fadeFrames">Length of a fade.</param>
/// <param name="fadesIn">True to fade in; otherwise the first frame is heard as it is.</param>
internal sealed class FadingRenderer(IAudioRenderer source, int fadeFrames, bool fadesIn) : IAudioRenderer
{
    // Beyond the fade and the buffers: a device that has not asked by then asks no more.
    private const double LongestLeaveSeconds = 0.25;
    private const int BuffersToLeave = 3;

    private int open = fadesIn ? 0 : fadeFrames;
    private volatile bool isLeaving;
    private volatile bool hasLeft;

    /// <summary>What converts the sound to the device's rate; null where nothing has to.</summary>
    public ResamplingRenderer? Converter => source as ResamplingRenderer;

    /// <summary>A renderer as a device is to play it, compiled all the way by a call for nothing.</summary>
    /// <param name="renderer">Renders at the rate of the settings.</param>
    /// <param name="settings">What was wanted of the device.</param>
    /// <param name="device">The device.</param>
    /// <param name="fadesIn">True to fade in.</param>
    public static FadingRenderer Of(IAudioRenderer renderer, DeviceSettings settings, IAudioDevice device, bool fadesIn)
    {
        IAudioRenderer adapted = ResamplingRenderer.Adapt(renderer, settings.SampleRate, device.SampleRate, settings.BufferFrames);
        FadingRenderer fading = new(adapted, PlanTiming.RampFrames(device.SampleRate), fadesIn);
        AudioCall.Run(fading, [], [], device.SampleRate, new AudioStatistics());
        return fading;
    }

    /// <summary>Fades out, and returns when the device has got that.</summary>
    public void LeaveBefore(IAudioDevice device)
    {
        if (!device.IsAlive)
        {
            return;
        }

        Leave();
        double patience = PlanTiming.RampSeconds + ((double)BuffersToLeave * device.BufferFrames / device.SampleRate) + LongestLeaveSeconds;
        long start = Stopwatch.GetTimestamp();
        while (!HasLeft && Stopwatch.GetElapsedTime(start).TotalSeconds < patience)
        {
            Thread.Sleep(1);
        }
    }

    /// <summary>Control thread: true once the source is asked no more.</summary>
    public bool HasLeft => hasLeft;

    /// <summary>Control thread: fades out from the next call on, and is silent then.</summary>
    public void Leave() => isLeaving = true;

    /// <inheritdoc/>
    public void Render(Span<float> left, Span<float> right)
    {
        bool leaves = isLeaving;
        if (leaves && open == 0)
        {
            hasLeft = true;
            left.Clear();
            right.Clear();
            return;
        }

        source.Render(left, right);
        for (int i = 0; i < left.Length && (leaves || open < fadeFrames); i++)
        {
            open = Math.Clamp(open + (leaves ? -1 : 1), 0, fadeFrames);
            float share = FadeCurve.Smooth((float)open / fadeFrames);
            left[i] *= share;
            right[i] *= share;
        }

        hasLeft = leaves && open == 0;
    }

    /// <inheritdoc/>
    public RenderedElsewhere TakeElsewhere() => source.TakeElsewhere();
}
