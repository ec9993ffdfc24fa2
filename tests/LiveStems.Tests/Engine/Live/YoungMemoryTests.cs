using LiveStems.Engine.Live;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

/// <summary>What waits to be moved by a collection is moved before it is much.</summary>
public class YoungMemoryTests
{
    [Fact]
    public void WhatHasSurvivedOneCollectionIsMovedOnBeforeTheRuntimeWould()
    {
        using YoungMemory memory = new();
        byte[][] kept = Kept(megabytes: 4);
        GC.Collect(0);
        int before = GC.CollectionCount(1);
        memory.Keep();
        Assert.True(GC.CollectionCount(1) > before);
        GC.KeepAlive(kept);
    }

    [Fact]
    public void WhatIsNewIsCollectedBeforeTheRuntimeWould()
    {
        GC.Collect();
        using YoungMemory memory = new();
        byte[][] kept = Kept(megabytes: 3);
        int before = GC.CollectionCount(0);
        memory.Keep();
        Assert.True(GC.CollectionCount(0) > before);
        GC.KeepAlive(kept);
    }

    [Fact]
    public void LittleIsLeftToTheRuntime()
    {
        GC.Collect();
        GC.Collect();
        using YoungMemory memory = new();
        byte[][] kept = Kept(megabytes: 1);
        GC.Collect(0);
        int before = GC.CollectionCount(1);
        memory.Keep();
        Assert.Equal(before, GC.CollectionCount(1));
        GC.KeepAlive(kept);
    }

    private static byte[][] Kept(int megabytes) => [.. Enumerable.Range(0, megabytes << 7).Select(_ => new byte[8192])];
}
