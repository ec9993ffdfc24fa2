using System.Runtime.InteropServices;
using LiveStems.Engine.Live;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class SlowProcessorTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const double BlockSeconds = 64.0 / SampleRate;
    private const float Level = 0.05f;

    private readonly PlayedSong played = new();
    private readonly HandClock clock = new();
    private double secondsABlock;

    public void Dispose() => played.Dispose();

    [Fact]
    public void ProcessorThatTakesTooLongIsFadedOutNamedAndTheMusicGoesOn()
    {
        Start();
        secondsABlock = 0.7 * BlockSeconds;
        played.Run(0.3);
        Assert.Equal(["a: slow takes too long and is passed by"], played.Troubles);

        // The processor doubles; without it the tone has its own level.
        Assert.Equal(Level, played.LoudestOfLast(0.1), 1e-3f);
        double worst = ClickMeter.WorstDbfs(CollectionsMarshal.AsSpan(played.Device.Left));
        Assert.True(worst < ClickMeter.LimitDbfs, $"{worst:0.0} dBFS beside the tone");
    }

    [Fact]
    public void SingleStallIsForgiven()
    {
        Start();
        secondsABlock = 0.02;
        played.Device.Run(64);
        secondsABlock = 0;
        played.Run(0.2);
        Assert.Empty(played.Troubles);
        Assert.Equal(2 * Level, played.LoudestOfLast(0.1), 1e-3f);
    }

    [Fact]
    public void ProcessorWithinItsShareStays()
    {
        Start();
        secondsABlock = 0.45 * BlockSeconds;
        played.Run(0.3);
        Assert.Empty(played.Troubles);
    }

    [Fact]
    public void OfflineNobodyTakesTheTime()
    {
        AddSong();
        secondsABlock = 100;
        (float[] left, _) = played.Files.Render(64, catalogue: Catalogue());
        Assert.Equal(2 * Level, left.Max(), 1e-3f);
    }

    [Fact]
    public void UnderLoadTheMusicIsFadedOutAndComesBack()
    {
        // A clock that passes 1.2 blocks a block, of which no processor has more than its share.
        Start();
        played.Files.Song = played.Song with
        {
            Stems = [played.Song.Stems[0] with { Chain = TestSong.Chain([.. Enumerable.Range(1, 3).Select(i => TestSong.Slot("slow") with { Id = $"slow-{i}" })]) }],
        };
        played.Player.Show(played.Song, played.Files.Folder);
        played.Run(0.3);
        secondsABlock = 0.4 * BlockSeconds;
        played.Forget();
        Assert.True(played.RunUntil(() => played.Player.Look().LoadLevel == LoadLevel.Faded));
        PlayerState state = played.Player.Look();
        Assert.Equal((1, 1, 1), state.LoadDrops);
        played.Run(0.1);
        Assert.Equal(0, played.LoudestOfLast(0.05));
        secondsABlock = 0;
        Assert.True(played.RunUntil(() => played.Player.Look().LoadLevel == LoadLevel.Everything));
        Assert.Equal(8 * Level, played.LoudestOfLast(0.1), 5e-3f);
        double worst = ClickMeter.WorstDbfs(CollectionsMarshal.AsSpan(played.Device.Left));
        Assert.True(worst < ClickMeter.LimitDbfs, $"{worst:0.0} dBFS beside the tone");
    }

    private void AddSong()
    {
        float[] tone = TestSignals.Sine(20 * SampleRate, ClickMeter.ToneHz, SampleRate, Level);
        played.Files.AddStem("a", tone, tone, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("slow")) });
    }

    private void Start()
    {
        AddSong();
        played.Start(Catalogue(), clock);
        played.Player.Play();
        played.Run(0.2);
        played.Forget();
        played.Run(0.1);
    }

    private ProcessorCatalogue Catalogue() => new([() => new Slow(this)]);

    /// <summary>Doubles, and lets the clock go on while it does.</summary>
    private sealed class Slow(SlowProcessorTests test) : Processor(new ProcessorDescription("slow", "slow", 1, "For tests.", [], false))
    {
        protected override void OnPrepare()
        {
        }

        protected override void OnReset()
        {
        }

        protected override void OnParametersMoved()
        {
        }

        protected override void ProcessSegment(in StereoBlock segment)
        {
            test.clock.Pass(test.secondsABlock * segment.Frames / 64);
            for (int i = 0; i < segment.Frames; i++)
            {
                segment.Left[i] *= 2;
                segment.Right[i] *= 2;
            }
        }
    }
}
