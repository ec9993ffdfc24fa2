using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public class SmallWorkTests
{
    [Fact]
    public void PiecesAreWorkedOutOneAfterTheOtherInTheOrderTheyWereAskedFor()
    {
        List<int> order = [];
        using SmallWork small = new();
        Task<int>[] pieces = [.. Enumerable.Range(0, 20).Select(number => small.Start(() => Noted(order, number)))];
        Assert.Equal(Enumerable.Range(0, 20), pieces.Select(Result));
        Assert.Equal(Enumerable.Range(0, 20), order);
    }

    [Fact]
    public void TheyRunOnAThreadOfLowRankThatIsNotTheCallers()
    {
        using SmallWork small = new();
        (int thread, ThreadPriority rank) = Result(small.Start(() => (Environment.CurrentManagedThreadId, Thread.CurrentThread.Priority)));
        Assert.NotEqual(Environment.CurrentManagedThreadId, thread);
        Assert.Equal(ThreadPriority.BelowNormal, rank);
    }

    [Fact]
    public void WhatOneThrowsIsInItsTaskAndTheNextIsDone()
    {
        using SmallWork small = new();
        Task<int> thrown = small.Start<int>(() => throw new IOException("no such file"));
        Task<int> next = small.Start(() => 2);
        Assert.Equal(2, Result(next));
        Assert.IsType<IOException>(thrown.Exception!.InnerException);
    }

    [Fact]
    public void AtTheEndWhatRunsIsWaitedForAndWhatHasNotBegunIsLeft()
    {
        using ManualResetEventSlim begun = new();
        using ManualResetEventSlim mayEnd = new();
        SmallWork small = new();
        Task<int> running = small.Start(() =>
        {
            begun.Set();
            mayEnd.Wait(TimeSpan.FromSeconds(30));
            return 1;
        });
        Task<int> waiting = small.Start(() => 2);
        begun.Wait(TestContext.Current.CancellationToken);
        Thread release = new(() =>
        {
            SpinWait.SpinUntil(() => !small.IsOpen, TimeSpan.FromSeconds(30));
            mayEnd.Set();
        });
        release.Start();
        small.Dispose();
        release.Join();
        Assert.Equal(1, Result(running));
        Assert.False(waiting.IsCompleted);
    }

    [Fact]
    public void WhatIsAskedForAfterTheEndIsCalledOff()
    {
        SmallWork small = new();
        small.Dispose();
        Assert.True(small.Start(() => 1).IsCanceled);
    }

    private static int Noted(List<int> order, int number)
    {
        order.Add(number);
        return number;
    }

    private static T Result<T>(Task<T> task)
    {
        Assert.True(SpinWait.SpinUntil(() => task.IsCompleted, TimeSpan.FromSeconds(30)));
        return task.GetAwaiter().GetResult();
    }
}
