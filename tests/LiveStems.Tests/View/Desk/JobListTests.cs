using LiveStems.View.Desk;
using Xunit;

namespace LiveStems.Tests.View.Desk;

public class JobListTests
{
    [Fact]
    public void AResultComesBackOnTheDesksThread()
    {
        using JobList jobs = new((_, _) => { });
        int thread = 0;
        DeskJob job = jobs.Start("sum", "adding up", (_, _) => 1 + 1, result => thread = result == 2 ? Environment.CurrentManagedThreadId : 0);
        WaitFor(jobs, job);
        Assert.Equal(Environment.CurrentManagedThreadId, thread);
        Assert.Equal((JobState.Done, 1.0), (job.State, job.Share));
    }

    [Fact]
    public void AJobThatIsCalledOffEndsAndGivesNothing()
    {
        using JobList jobs = new((_, _) => { });
        using ManualResetEventSlim begun = new();
        bool delivered = false;
        DeskJob job = jobs.Start(
            "wait",
            "waiting",
            (_, cancellation) =>
            {
                begun.Set();
                cancellation.WaitHandle.WaitOne();
                cancellation.ThrowIfCancellationRequested();
                return 0;
            },
            _ => delivered = true);
        begun.Wait(TestContext.Current.CancellationToken);
        job.Cancel();
        WaitFor(jobs, job);
        Assert.Equal(JobState.Cancelled, job.State);
        Assert.False(delivered);
    }

    [Fact]
    public void WhatIsAtWorkIsCalledOffByItsOrder()
    {
        List<string> told = [];
        using JobList jobs = new((_, words) => told.Add(words));
        Assert.NotNull(jobs.CallOff());
        DeskJob first = jobs.Start("hold", "holding", Hold, _ => { });
        DeskJob second = jobs.Start("wait", "waiting", Hold, _ => { });
        Assert.Same(first, jobs.Current);
        // However often it is asked for before the job has noticed.
        Assert.Null(jobs.CallOff());
        Assert.Null(jobs.CallOff());
        WaitFor(jobs, first);
        Assert.True(second.IsOpen);
        Assert.Same(second, jobs.Current);
        Assert.Null(jobs.CallOff());
        WaitFor(jobs, second);
        Assert.Equal([JobState.Cancelled, JobState.Cancelled], [first.State, second.State]);
        Assert.Equal(["called off: holding", "called off: waiting"], told);
        Assert.NotNull(jobs.CallOff());

        static int Hold(IProgress<double> progress, CancellationToken cancellation)
        {
            cancellation.WaitHandle.WaitOne();
            throw new OperationCanceledException(cancellation);
        }
    }

    [Fact]
    public void WhateverAJobThrowsIsToldAndTheNextOneRuns()
    {
        List<string> told = [];
        using JobList jobs = new((_, words) => told.Add(words));
        DeskJob first = jobs.Start<int>("check", "checking", (_, _) => throw new NotSupportedException("the tide is out"), _ => { });
        WaitFor(jobs, first);
        Assert.Equal(JobState.Failed, first.State);
        Assert.Equal(["checking: the tide is out"], told);
        DeskJob second = jobs.Start("sum", "adding up", (_, _) => 1 + 1, _ => { });
        WaitFor(jobs, second);
        Assert.Equal(JobState.Done, second.State);
    }

    [Fact]
    public void ANewJobOfAKindTakesThePlaceOfTheOld()
    {
        using JobList jobs = new((_, _) => { });
        using ManualResetEventSlim mayEnd = new();
        jobs.Start("other", "holding the thread", (_, cancellation) => mayEnd.Wait(TimeSpan.FromSeconds(30), cancellation), _ => { });
        DeskJob first = jobs.Start("look", "first", (_, _) => 1, _ => { });
        DeskJob second = jobs.Start("look", "second", (_, _) => 2, _ => { });
        mayEnd.Set();
        WaitFor(jobs, second);
        Assert.Equal((JobState.Cancelled, JobState.Done), (first.State, second.State));
    }

    [Fact]
    public void OfManyOfAKindOnlyTheLatestIsDone()
    {
        using JobList jobs = new((_, _) => { });
        using ManualResetEventSlim mayEnd = new();
        jobs.Start("other", "holding the thread", (_, cancellation) => mayEnd.Wait(TimeSpan.FromSeconds(30), cancellation), _ => { });
        DeskJob[] looks = [.. Enumerable.Range(0, 4).Select(number => jobs.Start("look", $"look {number}", (_, _) => number, _ => { }))];
        Assert.Same(looks[3], jobs.Open("look"));
        mayEnd.Set();
        WaitFor(jobs, looks[3]);
        Assert.Equal([JobState.Cancelled, JobState.Cancelled, JobState.Cancelled, JobState.Done], looks.Select(look => look.State));
    }

    [Fact]
    public void AFaultIsSaidInOneLine()
    {
        List<string> said = [];
        using JobList jobs = new((_, text) => said.Add(text));
        DeskJob job = jobs.Start<int>("fail", "trying", (_, _) => throw new IOException("no such file"), _ => { });
        WaitFor(jobs, job);
        Assert.Equal(JobState.Failed, job.State);
        Assert.Equal(["trying: no such file"], said);
    }

    [Fact]
    public void AResultThatNoLongerFitsIsToldAndWhatComesAfterItIsTaken()
    {
        List<string> said = [];
        using JobList jobs = new((kind, text) => said.Add($"{kind} {text}"));
        DeskJob first = jobs.Start("blend", "finding the blend", (_, _) => 3, index => Array.Empty<int>()[index]++);
        bool isTaken = false;
        DeskJob second = jobs.Start("sum", "adding up", (_, _) => 1 + 1, _ => isTaken = true);
        WaitFor(jobs, first);
        WaitFor(jobs, second);
        Assert.Equal(JobState.Failed, first.State);
        Assert.StartsWith("Trouble finding the blend: ", Assert.Single(said), StringComparison.Ordinal);
        Assert.True(isTaken);
    }

    private static void WaitFor(JobList jobs, DeskJob job) => Assert.True(SpinWait.SpinUntil(
        () =>
        {
            jobs.Update();
            return !job.IsOpen;
        },
        TimeSpan.FromSeconds(30)));
}
