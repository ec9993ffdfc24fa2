using System.Runtime.InteropServices;
using LiveStems.Albums.Model;
using LiveStems.Engine.Monitor;
using LiveStems.Tests.Dsp.Dynamics;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

/// <summary>
/// No switch of the player clicks: over a steady sine it adds nothing that <see cref="ClickMeter"/> tells from a 10 ms
/// ramp, and no sample-to-sample step beyond that of the signal and the ramp.
/// </summary>
public sealed class PlayerClickTests : IDisposable
{
    private const int SampleRate = PlayedSong.SampleRate;
    private const double Level = 0.1;

    private readonly PlayedSong played = new();

    public void Dispose() => played.Dispose();

    [Theory]
    [InlineData("solo")]
    [InlineData("mute")]
    [InlineData("gain")]
    [InlineData("pan")]
    [InlineData("polarity")]
    [InlineData("bypass a processor")]
    [InlineData("bypass the chain")]
    [InlineData("bypass the song chain")]
    [InlineData("bypass all chains")]
    [InlineData("mix")]
    [InlineData("parameter")]
    [InlineData("scope")]
    [InlineData("add a processor")]
    [InlineData("add a processor with latency")]
    [InlineData("remove a processor")]
    [InlineData("reorder")]
    [InlineData("add a parallel")]
    public void SwitchingThereAndBackNeverClicks(string what)
    {
        Start();
        played.Player.Show(Changed(what), played.Files.Folder);
        played.Run(0.4);
        played.Player.Show(played.Song, played.Files.Folder);
        played.Run(0.4);
        AssertNoClick(what);
    }

    [Fact]
    public void ChangesInQuickSuccessionNeverClick()
    {
        Start();
        foreach (string what in new[] { "mute", "gain", "pan", "solo", "bypass the chain", "parameter", "mute", "polarity", "gain" })
        {
            played.Player.Show(Changed(what), played.Files.Folder);
            played.Run(0.03);
        }

        played.Run(0.3);
        AssertNoClick("changes in quick succession");
    }

    [Fact]
    public void StoppingAndStartingNeverClicks()
    {
        Start();
        played.Player.Stop();
        played.Run(0.2);
        played.Player.Play();
        played.Run(0.3);
        AssertNoClick("stop and start");
    }

    [Theory]
    [InlineData(1.2345)]
    [InlineData(3.0021)]
    [InlineData(0.5009)]
    public void JumpingNeverClicks(double to)
    {
        Start();
        played.Player.JumpTo(to);
        Assert.True(played.RunUntil(() => Math.Abs(played.Player.Look().PositionSeconds - to) < 0.2));
        played.Run(0.2);
        AssertNoClick("jump");
    }

    [Fact]
    public void SeamOfALoopNeverClicks()
    {
        // 0.3017 s are not a whole number of periods: the seam joins unlike phases.
        Start();
        played.Player.JumpTo(1, (1, 1.3017));
        played.Run(2);
        AssertNoClick("loop");
    }

    [Fact]
    public void GoingOverToAnotherSongNeverClicks()
    {
        Start();
        using TestSong other = new();
        float[] tone = TestSignals.Sine(4 * SampleRate, ClickMeter.ToneHz, SampleRate, 2 * Level, 1);

        // A song is heard from its first frame as it is: this one begins softly.
        for (int i = 0; i < SampleRate / 100; i++)
        {
            tone[i] *= 0.5f - (0.5f * MathF.Cos(MathF.PI * i / (SampleRate / 100)));
        }

        other.AddStem("other", tone, tone);
        played.Player.Show(other.Song with { Title = "Other" }, other.Folder);
        played.Run(0.6);
        AssertNoClick("another song");
    }

    [Fact]
    public void MonitorSwitchesNeverClick()
    {
        Start();
        MonitorSettings plain = MonitorSettings.AtStart with { IsDimmed = false };
        foreach (MonitorSettings settings in new[]
        {
            plain with { IsDimmed = true },
            plain with { BandListen = true, BandCentreHz = 300 },
            plain with { Channels = MonitorChannels.Mono },
            plain,
        })
        {
            played.Player.SetMonitor(settings);
            played.Run(0.2);
        }

        AssertNoClick("monitor");
    }

    private void Start()
    {
        AddTone("a");
        AddTone("b");
        AddTone("key");
        Song song = played.Song;
        played.Files.Song = song with
        {
            Stems = song.Stems.SetItem(0, song.Stems[0] with
            {
                Chain = TestSong.Chain(
                    TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", -6), ("band2.frequencyHz", 300)),
                    TestSong.Slot("gain", ("gainDb", 2))),
            }),
            Bus = TestSong.Chain(TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", -4), ("band2.frequencyHz", 250)), TestSong.Slot("compressor")),
        };
        played.Start();
        played.Player.Play();
        played.Run(0.4);
        played.Forget();
        played.Run(0.1);
    }

    private void AddTone(string name)
    {
        float[] tone = TestSignals.Sine(8 * SampleRate, ClickMeter.ToneHz, SampleRate, Level);
        played.Files.AddStem(name, tone, tone);
    }

    private void AssertNoClick(string what)
    {
        // Three tones, none above +2 dB: 3.3 levels together; a 10 ms ramp is at its steepest 1.5 levels in 480 frames, and
        // where signals are not alike they meet at equal power, 1.41 times as high. Polarity goes from −1 to 1.
        double steepest = Level * 2 * Math.PI * ClickMeter.ToneHz / SampleRate;
        double allowed = 1.41 * 3.3 * (steepest + (2 * Level * 1.5 / 480));
        foreach (List<float> side in new[] { played.Device.Left, played.Device.Right })
        {
            Span<float> heard = CollectionsMarshal.AsSpan(side);
            Assert.True(heard.Length > 4096);
            double worst = ClickMeter.WorstDbfs(heard);
            Assert.True(worst < ClickMeter.LimitDbfs, $"{what}: {worst:0.0} dBFS beside the tone");
            for (int i = 1; i < heard.Length; i++)
            {
                Assert.True(Math.Abs(heard[i] - heard[i - 1]) <= allowed, $"{what}: a step of {heard[i] - heard[i - 1]} at frame {i}");
            }
        }

        Assert.Equal(0, played.Player.Look().MissedFrames);
    }

    private Song Changed(string what)
    {
        Song song = played.Song;
        Chain songChainBypassed = song.Bus with { Bypassed = true };
        if (what == "bypass the song chain")
        {
            return song with { Bus = songChainBypassed };
        }

        if (what == "bypass all chains")
        {
            return song with { Stems = [.. song.Stems.Select(each => each with { Chain = each.Chain with { Bypassed = true } })], Bus = songChainBypassed };
        }

        Stem stem = song.Stems[0];
        Stem changed = what switch
        {
            "solo" => stem with { Placement = stem.Placement with { Soloed = true } },
            "mute" => stem with { Placement = stem.Placement with { Muted = true } },
            "gain" => stem with { Placement = stem.Placement with { GainDb = -12 } },
            "pan" => stem with { Placement = stem.Placement with { Pan = 1 } },
            "polarity" => stem with { Placement = stem.Placement with { Polarity = Polarity.Inverted } },
            "bypass a processor" => WithSlot(stem, slot => slot with { Bypassed = true }),
            "bypass the chain" => stem with { Chain = stem.Chain with { Bypassed = true } },
            "mix" => WithSlot(stem, slot => slot with { MixPercent = 30 }),
            "parameter" => WithSlot(stem, slot => slot with { Parameters = slot.Parameters.SetItem("band2.gainDb", 3) }),
            "scope" => WithSlot(stem, slot => slot with { Scope = StereoScope.Mid }),
            "add a processor" => Added(stem, TestSong.Slot("gain", ("gainDb", -4)) with { Id = "gain-2" }),
            "add a processor with latency" => Added(stem, TestSong.Slot("limiter", ("ceilingDbtp", 0))),
            "remove a processor" => stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.RemoveAt(0) } },
            "reorder" => stem with { Chain = stem.Chain with { Slots = [.. stem.Chain.Slots.Reverse()] } },
            "add a parallel" => stem with { Parallels = [TestSong.ParallelPath(true, -3)] },
            _ => throw new ArgumentException(what),
        };
        return song with { Stems = song.Stems.SetItem(0, changed) };
    }

    private static Stem Added(Stem stem, ChainSlot slot) => stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.Add(slot) } };

    private static Stem WithSlot(Stem stem, Func<ChainSlot, ChainSlot> change) =>
        stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.SetItem(0, change(stem.Chain.Slots[0])) } };
}
