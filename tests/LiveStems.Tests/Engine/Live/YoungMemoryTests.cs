using System.Globalization;
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
        byte[][] kept = Kept(kilobytes: 4096);
        GC.Collect(0);
        int before = GC.CollectionCount(1);
        memory.Keep();
        Assert.True(GC.CollectionCount(1) > before);
        GC.KeepAlive(kept);
    }

    [Fact]
    public void WhatIsNewIsCollectedInPortions()
    {
        Assert.Equal(1L << 20, Convert.ToInt64(GC.GetConfigurationVariables()["GCGen0MaxBudget"], CultureInfo.InvariantCulture));
        GC.Collect();
        int before = GC.CollectionCount(0);
        byte[][] kept = Kept(kilobytes: 8192);
        Assert.InRange(GC.CollectionCount(0) - before, 4, int.MaxValue);
        GC.KeepAlive(kept);
    }

    [Fact]
    public void AThreadLooksUntilItIsEnded()
    {
        YoungMemory memory = new();
        memory.Begin();
        byte[][] kept = Kept(kilobytes: 4096);
        int before = GC.CollectionCount(1);
        GC.Collect(0);
        Assert.True(SpinWait.SpinUntil(() => GC.CollectionCount(1) > before, TimeSpan.FromSeconds(30)));
        memory.Dispose();
        GC.KeepAlive(kept);
    }

    [Fact]
    public void LittleIsLeftToTheRuntime()
    {
        GC.Collect();
        GC.Collect();
        using YoungMemory memory = new();
        byte[][] kept = Kept(kilobytes: 256);
        GC.Collect(0);
        int before = GC.CollectionCount(1);
        memory.Keep();
        Assert.Equal(before, GC.CollectionCount(1));
        GC.KeepAlive(kept);
    }

    private static byte[][] Kept(int kilobytes) => [.. Enumerable.Range(0, kilobytes >> 3).Select(_ => new byte[8192])];
}
