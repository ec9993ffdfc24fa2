using LiveStems.Engine.Devices;

namespace LiveStems.Tests.Engine.Live;

/// <summary>A device whose clock is the test: it asks for sound when told to and keeps what it got.</summary>
internal sealed class ManualDevice(int sampleRate, int bufferFrames) : IAudioDevice
{
    private readonly float[] left = new float[bufferFrames];
    private readonly float[] right = new float[bufferFrames];
    private IAudioRenderer? renderer;

    public string Name => "test";

    public int SampleRate { get; } = sampleRate;

    public int BufferFrames { get; } = bufferFrames;

    public double LatencySeconds => 0;

    public bool IsAlive => true;

    public AudioStatistics Statistics { get; } = new();

    public List<float> Left { get; } = [];

    public List<float> Right { get; } = [];

    /// <summary>Bytes that the calls of <see cref="Run"/> have allocated on this thread.</summary>
    public long AllocatedBytes { get; private set; }

    public void Start(IAudioRenderer newRenderer) => renderer = newRenderer;

    public bool IsStarted => renderer is not null;

    public void Stop() => renderer = null;

    public void Dispose()
    {
    }

    /// <summary>Asks for so many frames, a buffer at a time.</summary>
    public void Run(int frames)
    {
        for (int done = 0; done < frames; done += BufferFrames)
        {
            int count = Math.Min(BufferFrames, frames - done);
            int collections = GC.CollectionCount(0);
            long before = GC.GetAllocatedBytesForCurrentThread();
            renderer!.Render(left.AsSpan(0, count), right.AsSpan(0, count));
            long allocated = GC.GetAllocatedBytesForCurrentThread() - before;

            // A collection meanwhile, caused by another thread, closes this one's allocation window and counts its rest.
            AllocatedBytes += GC.CollectionCount(0) == collections ? allocated : 0;
            Left.AddRange(left.AsSpan(0, count));
            Right.AddRange(right.AsSpan(0, count));
        }
    }
}
