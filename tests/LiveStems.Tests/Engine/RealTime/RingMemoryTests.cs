using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using Xunit;

namespace LiveStems.Tests.Engine.RealTime;

public sealed class RingMemoryTests
{
    private const int OddLength = 12_345;

    [Fact]
    public void WhatIsGivenBackIsTakenAgain()
    {
        float[] memory = RingMemory.Take(OddLength);
        RingMemory.GiveBack(memory);
        float[] again = RingMemory.Take(OddLength);
        Assert.Same(memory, again);
        Assert.NotSame(memory, RingMemory.Take(OddLength));
    }

    [Fact]
    public void ARingThatIsGivenBackTwiceIsNotUsedByTwo()
    {
        const int Frames = 1 << 15;
        StemRing ring = new(Frames);
        ring.GiveBack();
        ring.GiveBack();
        StemRing first = new(Frames);
        StemRing second = new(Frames);
        first.GetSpace(1, out Span<float> firstLeft, out Span<float> firstRight);
        second.GetSpace(1, out Span<float> secondLeft, out Span<float> secondRight);
        (firstLeft[0], firstRight[0], secondLeft[0], secondRight[0]) = (1, 2, 3, 4);
        Assert.Equal([1, 2, 3, 4], [firstLeft[0], firstRight[0], secondLeft[0], secondRight[0]]);
    }

    // Ten stems of two seconds' look-ahead in two rings each are 20 MB; what a song takes besides is a tenth of one.
    [Fact]
    public void TheNextSongTakesTheLookAheadOfTheOneBefore()
    {
        using TestSong song = new();
        for (int stem = 0; stem < 10; stem++)
        {
            song.AddStem($"stem {stem}", new float[1000], new float[1000]);
        }

        PlanOptions options = new(512, 2 * TestSong.SampleRate) { IsLive = true };
        SongSources.Open(song.Song, song.Folder, options).Dispose();
        long before = GC.GetAllocatedBytesForCurrentThread();
        SongSources.Open(song.Song, song.Folder, options).Dispose();
        long taken = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.True(taken < 4_000_000, $"{taken} bytes");
    }
}
