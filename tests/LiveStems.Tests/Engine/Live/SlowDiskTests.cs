using System.Runtime.InteropServices;
using LiveStems.Files.Reading;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class SlowDiskTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const float Level = 0.1f;

    private readonly PlayedSong played = new();
    private SlowReader? slow;

    public void Dispose()
    {
        slow?.LetGo();
        played.Dispose();
    }

    [Fact]
    public void StemThatComesLateIsFadedOutNamedAndFadedInWhereTheSongIs()
    {
        Start();
        slow!.Hold();
        Assert.True(played.RunUntil(() => played.Player.Look().LateStems.Contains("slow")));
        played.Run(0.3);
        Assert.Contains(played.Troubles, trouble => trouble.StartsWith("slow: does not come", StringComparison.Ordinal));

        // The other stem plays on alone.
        Assert.Equal(Level, played.LoudestOfLast(0.1), 1e-3f);
        slow.LetGo();
        Assert.True(played.RunUntil(() => played.Player.Look().LateStems.Count == 0));
        played.Run(0.3);
        Assert.Contains("slow: is back", played.Troubles);

        // Both stems are one tone: in step again, they add up.
        Assert.Equal(2 * Level, played.LoudestOfLast(0.1), 1e-3f);
        AssertNoClick();
        Assert.True(played.Player.Look().MissedFrames > 0);
    }

    [Fact]
    public void JumpGoesAheadWithoutAStemThatDoesNotAnswer()
    {
        Start();
        slow!.Hold();
        played.Run(0.05);
        played.Player.JumpTo(20);
        Assert.True(played.RunUntil(() => played.Player.Look().PositionSeconds > 19.9));
        played.Run(0.1);
        Assert.Equal(Level, played.LoudestOfLast(0.05), 1e-3f);
        slow.LetGo();
        Assert.True(played.RunUntil(() => played.LoudestOfLast(0.05) > 1.98f * Level));
        AssertNoClick();
    }

    [Fact]
    public void StemThatCannotBeReadIsFadedOutAndTriedAgain()
    {
        Start();
        slow!.IsBroken = true;
        Assert.True(played.RunUntil(() => played.Troubles.Exists(trouble => trouble.Contains("slow.wav", StringComparison.Ordinal))));
        Assert.True(played.RunUntil(() => played.Player.Look().LateStems.Contains("slow")));
        slow.IsBroken = false;
        Assert.True(played.RunUntil(() => played.Player.Look().LateStems.Count == 0));
        played.Run(0.2);
        Assert.Equal(2 * Level, played.LoudestOfLast(0.1), 1e-3f);
        AssertNoClick();
    }

    [Fact]
    public void FileThatIsDeletedWhilePlayingStopsNothing()
    {
        Start();
        foreach (string file in Directory.GetFiles(played.Files.Folder))
        {
            File.Delete(file);
        }

        played.Player.JumpTo(10);
        played.Run(1);
        AssertNoClick();
        Assert.True(played.LoudestOfLast(0.1) is > 1.98f * Level or < 1e-6f);
    }

    [Fact]
    public void PlayerEndsWhileADiskHoldsAFile()
    {
        Start();
        slow!.Hold();
        played.Run(0.2);
        played.Player.Dispose();
    }

    private void Start()
    {
        float[] tone = TestSignals.Sine(30 * SampleRate, ClickMeter.ToneHz, SampleRate, Level);
        played.Files.AddStem("steady", tone, tone);
        played.Files.AddStem("slow", tone, tone);
        played.Start(open: path => path.EndsWith("slow.wav", StringComparison.Ordinal) ? slow = new SlowReader(AudioFile.Open(path)) : AudioFile.Open(path));
        played.Player.Play();
        played.Run(0.2);
        played.Forget();
        played.Run(0.1);
    }

    private void AssertNoClick()
    {
        double worst = ClickMeter.WorstDbfs(CollectionsMarshal.AsSpan(played.Device.Left));
        Assert.True(worst < ClickMeter.LimitDbfs, $"{worst:0.0} dBFS beside the tone");
    }
}
