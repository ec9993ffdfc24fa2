using System.Diagnostics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using LiveStems.Engine.Devices.Native;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>What PortAudio calls for sound, and what it needs then.</summary>
internal sealed unsafe class OutputCallback(int bufferFrames, AudioStatistics statistics)
{
    private volatile IAudioRenderer renderer = SilenceRenderer.Instance;
    private int sampleRate;
    private long lastCall;
    private bool isRaised;

    /// <summary>The function to hand to the library, with a handle of an object of this class as its user data.</summary>
    internal static delegate* unmanaged[Cdecl]<void*, float**, CULong, void*, CULong, nint, int> Function => &OnCall;

    /// <summary>Ticks of <see cref="Stopwatch"/> at the latest call, or at the start.</summary>
    internal long LastCall => Volatile.Read(ref lastCall);

    /// <summary>Before the stream starts: where sound comes from, and at what rate.</summary>
    internal void Begin(IAudioRenderer source, int rate)
    {
        renderer = source;
        sampleRate = rate;
        isRaised = false;
        Volatile.Write(ref lastCall, Stopwatch.GetTimestamp());
    }

    /// <summary>From the next call on: silence.</summary>
    internal void End() => renderer = SilenceRenderer.Instance;

    /// <summary>Compiles and binds all that a call runs through, by calls that nobody hears.</summary>
    internal static void Warm()
    {
        const int Frames = DeviceSettings.LeastBufferFrames;
        OutputCallback trial = new(Frames, new AudioStatistics()) { isRaised = true, sampleRate = 48_000 };
        GCHandle handle = GCHandle.Alloc(trial);
        float* samples = stackalloc float[2 * Frames];
        float** channels = stackalloc float*[2];
        channels[0] = samples;
        channels[1] = samples + Frames;
        _ = Function(null, channels, new CULong(Frames), null, new CULong(0), GCHandle.ToIntPtr(handle));
        handle.Free();
        AudioThread.Warm();
    }

    [UnmanagedCallersOnly(CallConvs = [typeof(CallConvCdecl)])]
    private static int OnCall(void* input, float** output, CULong frames, void* time, CULong flags, nint userData)
    {
        Unsafe.As<OutputCallback>(GCHandle.FromIntPtr(userData).Target!).Serve(output[0], output[1], (int)frames.Value, (uint)flags.Value);
        return PortAudioLibrary.Continue;
    }

    private void Serve(float* left, float* right, int frames, uint flags)
    {
        if (!isRaised)
        {
            isRaised = true;
            statistics.SetPriority(AudioThread.RaiseLibrarys());
        }

        if ((flags & PortAudioLibrary.OutputUnderflow) != 0)
        {
            statistics.AddUnderrun();
        }

        for (int done = 0; done < frames;)
        {
            int part = Math.Min(frames - done, bufferFrames);
            AudioCall.Run(renderer, new Span<float>(left + done, part), new Span<float>(right + done, part), sampleRate, statistics);
            done += part;
        }

        Volatile.Write(ref lastCall, Stopwatch.GetTimestamp());
    }
}
