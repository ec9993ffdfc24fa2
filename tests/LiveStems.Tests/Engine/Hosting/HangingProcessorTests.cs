using System.Diagnostics;
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

    private readonly PlayedSong played = new(256);

    public void Dispose() => played.Dispose();

    [Fact]
    public void MusicGoesOnWithoutTheOneThatHangsAndTheUserIsTold()
    {
        Start("hostile-hangs");
        played.Player.Play();
        Assert.True(RunUntil(() => played.Troubles.Count > 0));
        Assert.Equal("hostile-hangs did not come to an end and is passed by", played.Troubles[0]);

        // Both stems sound again, the second without its processor; and the plan that follows plays on, too.
        Assert.True(RunUntil(() => Loudest() > 1.9f * Level));
        Run(TimeSpan.FromSeconds(0.5));
        Assert.Equal(2 * Level, Loudest(), 2e-3f);
        double before = played.Player.Look().PositionSeconds;
        Run(TimeSpan.FromSeconds(0.2));
        Assert.True(played.Player.Look().PositionSeconds > before);
        Assert.Contains(played.Player.Remarks, remark => remark.Contains("it did not come to an end", StringComparison.Ordinal));
    }

    [Fact]
    public void ProcessorsThatReturnAreHeard()
    {
        Start("outside-tilt", "Tilt");
        played.Player.Play();
        Assert.True(RunUntil(() => Loudest() > 1.9f * Level));
        Assert.Empty(played.Troubles);
        Assert.Empty(played.Player.Remarks);
    }

    private void Start(string id, string assembly = "Hostile")
    {
        float[] tone = TestSignals.Sine(30 * SampleRate, 250, SampleRate, Level);
        played.Files.AddStem("a", tone, tone);
        played.Files.AddStem("b", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id)) });

        // A clock that stands still: on a machine under load nothing is taken for too slow.
        played.Start(new ProcessorCatalogue([.. BuiltInProcessors.Makers, OutsideFiles.Maker(assembly, id)]), new HandClock());
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
