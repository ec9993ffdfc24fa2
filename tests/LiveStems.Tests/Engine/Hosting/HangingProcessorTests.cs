using System.Diagnostics;
using LiveStems.Engine.Hosting;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Engine.Live;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>A processor that never returns takes neither the device nor the song with it.</summary>
public sealed class HangingProcessorTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const float Level = 0.05f;
    private const string WithoutIt = "b: the processor 'hostile-hangs' is not here (it did not come to an end; it is tried again in a process of its own, as another build, or when the program starts anew); the sound passes it by, its settings stay";

    private readonly PlayedSong played = new(256);

    public void Dispose() => played.Dispose();

    [Fact]
    public void MusicGoesOnWithoutTheOneThatHangsAndTheUserIsTold()
    {
        Start("hostile-hangs");
        played.Player.Play();
        Assert.True(RunUntil(() => played.Troubles.Count > 0));
        Assert.Equal("b: hostile-hangs did not come to an end and is passed by", played.Troubles[0]);

        // Both stems sound again, the second without its processor; and the plan that follows plays on, too.
        Assert.True(RunUntil(() => Loudest() > 1.9f * Level));
        Run(TimeSpan.FromSeconds(0.5));
        Assert.Equal(2 * Level, Loudest(), 2e-3f);
        double before = played.Player.Look().PositionSeconds;
        Run(TimeSpan.FromSeconds(0.2));
        Assert.True(played.Player.Look().PositionSeconds > before);

        // A plan that is compiled later is compiled without it.
        played.Player.Show(played.Song with { Bus = TestSong.Chain(TestSong.Slot("gain", ("gainDb", 0))) }, played.Files.Folder);
        Assert.True(RunUntil(() => played.Player.Remarks.Any(remark => remark.Contains("it did not come to an end", StringComparison.Ordinal))));
        Run(TimeSpan.FromSeconds(0.5));
        Assert.Equal(2 * Level, Loudest(), 2e-3f);
        Assert.Equal([WithoutIt], played.Troubles.Skip(1));
    }

    [Fact]
    public void OneThatHangsInSeveralPlacesHoldsTheSoundOnce()
    {
        Start([OutsideFiles.Maker("Hostile", "hostile-hangs")], ["one", "two", "three"], "hostile-hangs");
        played.Player.Play();
        Assert.True(RunUntil(() => played.Troubles.Count == 3));
        Assert.Equal(["one", "two", "three"], played.Troubles.Select(line => line[..line.IndexOf(':', StringComparison.Ordinal)]));
        Assert.True(RunUntil(() => Loudest() > 3.8f * Level));
        Assert.Equal(1, played.Player.LostWalks);

        // Nothing is left to watch over: the device's thread renders again.
        Assert.False(played.Player.IsWatched);
    }

    [Fact]
    public void OneThatHungIsNotTriedAgainBeforeThereIsAnotherBuildOfIt()
    {
        IReadOnlyList<ProcessorMaker> makers = OutsideFiles.Makers("Hostile");
        Start("hostile-hangs", makers);
        played.Player.Play();
        Assert.True(RunUntil(() => played.Troubles.Count > 0 && Loudest() > 1.9f * Level));

        // Something else has changed in the folder.
        played.Player.Replace(OutsideFiles.Catalogue([.. makers, OutsideFiles.Maker("Tilt", "outside-tilt")]));
        Run(TimeSpan.FromSeconds(0.7));
        Assert.DoesNotContain(played.Troubles.Skip(1), told => told != WithoutIt);
        Assert.Equal(2 * Level, Loudest(), 2e-3f);
        int toldSoFar = played.Troubles.Count;

        // The same processor, built anew.
        using OutsideFiles files = new();
        played.Player.Replace(OutsideFiles.Catalogue([.. OutsideLoader.Load(AssemblyExaminer.Examine(files.Put("Hostile", change: OutsideFiles.Rebuilt)))]));
        Assert.True(RunUntil(() => played.Troubles.Count > toldSoFar));
        Assert.Equal("b: hostile-hangs did not come to an end and is passed by", played.Troubles[toldSoFar]);
        Assert.True(RunUntil(() => Loudest() > 1.9f * Level));
    }

    [Fact]
    public void ProcessorsThatReturnAreHeard()
    {
        Start("outside-tilt", "Tilt");
        played.Player.Play();
        Assert.True(RunUntil(() => Loudest() > 1.9f * Level));
        Assert.Empty(played.Troubles);
        Assert.Empty(played.Player.Remarks);

        // A window reads what processors publish, on its own thread: not where that would be code of others.
        Assert.Null(played.Player.Running(TapPlace.OfStem(1) with { Slot = "outside-tilt" }));
    }

    private void Start(string id, string assembly = "Hostile") => Start(id, [OutsideFiles.Maker(assembly, id)]);

    private void Start(string id, IReadOnlyList<ProcessorMaker> makers) => Start(makers, ["b"], id);

    private void Start(IReadOnlyList<ProcessorMaker> makers, string[] stems, string id)
    {
        float[] tone = TestSignals.Sine(30 * SampleRate, 250, SampleRate, Level);
        played.Files.AddStem("a", tone, tone);
        foreach (string stem in stems)
        {
            played.Files.AddStem(stem, tone, tone, each => each with { Chain = TestSong.Chain(TestSong.Slot(id)) });
        }

        // A clock that stands still: on a machine under load nothing is taken for too slow.
        played.Start(new ProcessorCatalogue([.. BuiltInProcessors.Makers, .. makers]), new HandClock());
    }

    // As a device by day: no faster than music.
    private void Run(TimeSpan time)
    {
        long start = Stopwatch.GetTimestamp();
        while (Stopwatch.GetElapsedTime(start) < time)
        {
            Thread.Sleep(5);
            played.Device.Run(256);
            played.Troubles.AddRange(played.Player.Update());
        }
    }

    private bool RunUntil(Func<bool> holds)
    {
        for (int turn = 0; turn < 200 && !holds(); turn++)
        {
            Run(TimeSpan.FromMilliseconds(50));
        }

        return holds();
    }

    private float Loudest() => played.LoudestOfLast(0.05);
}
