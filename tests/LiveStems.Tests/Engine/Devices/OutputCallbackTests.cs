using System.Runtime.ExceptionServices;
using System.Runtime.InteropServices;
using LiveStems.Engine.Devices;
using LiveStems.Engine.Devices.PortAudio;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public sealed unsafe class OutputCallbackTests : IDisposable
{
    private const int Buffer = 64;

    private readonly AudioStatistics statistics = new();
    private readonly OutputCallback callback;
    private readonly GCHandle userData;
    private readonly float[] left = new float[4 * Buffer];
    private readonly float[] right = new float[4 * Buffer];

    public OutputCallbackTests()
    {
        callback = new OutputCallback(Buffer, statistics);
        userData = GCHandle.Alloc(callback);
    }

    public void Dispose() => userData.Free();

    [Fact]
    public void SoundGoesToTheChannelsOfTheLibrary() => OnThreadOfItsOwn(() =>
    {
        callback.Begin(new CountingRenderer(), 48_000);
        Assert.Equal(0, Call(Buffer));
        Assert.Equal(Enumerable.Range(0, Buffer).Select(frame => (float)frame), left.Take(Buffer));
        Assert.Equal(Enumerable.Range(0, Buffer).Select(frame => -(float)frame), right.Take(Buffer));
        Assert.Equal(1, statistics.Calls);
        Assert.Equal(0, statistics.Underruns);
    });

    [Fact]
    public void ALongerRequestIsCutToTheBuffer() => OnThreadOfItsOwn(() =>
    {
        CountingRenderer renderer = new();
        callback.Begin(renderer, 48_000);
        Call(150);
        Assert.Equal(Buffer, renderer.LongestCall);
        Assert.Equal(Enumerable.Range(0, 150).Select(frame => (float)frame), left.Take(150));
    });

    [Fact]
    public void ARendererThatThrowsGivesSilenceAndIsMarked() => OnThreadOfItsOwn(() =>
    {
        callback.Begin(new ThrowingRenderer(), 48_000);
        left.AsSpan().Fill(0.5f);
        right.AsSpan().Fill(0.5f);
        Assert.Equal(0, Call(Buffer));
        Assert.All(left.Take(Buffer), sample => Assert.Equal(0, sample));
        Assert.All(right.Take(Buffer), sample => Assert.Equal(0, sample));
        Assert.Equal(1, statistics.Faults);
        Assert.Equal("the harbour bell is out of tune", statistics.LastFault?.Message);
    });

    [Fact]
    public void UnderflowsThatTheLibraryReportsAreCounted() => OnThreadOfItsOwn(() =>
    {
        callback.Begin(new CountingRenderer(), 48_000);
        Call(Buffer, flags: 0x4); // paOutputUnderflow of portaudio.h
        Call(Buffer, flags: 0x10); // paPrimingOutput
        Assert.Equal(1, statistics.Underruns);
    });

    [Fact]
    public void ACallAllocatesNothing() => OnThreadOfItsOwn(() =>
    {
        callback.Begin(new CountingRenderer(), 48_000);
        Call(Buffer);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 100; i++)
        {
            Call(Buffer);
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    });

    // On a thread of its own: the first call ranks its thread as an audio thread.
    // The first call ranks its thread as an audio thread; that is not for the threads that tests share.
    private static void OnThreadOfItsOwn(Action test)
    {
        Exception? failure = null;
        Thread thread = new(() => failure = Record.Exception(test));
        thread.Start();
        thread.Join();
        if (failure is not null)
        {
            ExceptionDispatchInfo.Throw(failure);
        }
    }

    private int Call(int frames, uint flags = 0)
    {
        fixed (float* leftSamples = left, rightSamples = right)
        {
            float** channels = stackalloc float*[2];
            channels[0] = leftSamples;
            channels[1] = rightSamples;
            return OutputCallback.Function(
                null, channels, new CULong((uint)frames), null, new CULong(flags), GCHandle.ToIntPtr(userData));
        }
    }
}
