using LiveStems.Albums.Model;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Engine.Planning;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class LivePlayerTests : IDisposable
{
    private const int SampleRate = TestSong.SampleRate;
    private const int Second = SampleRate;
    private const double ToneHz = 440;
    private const float ToneLevel = 0.1f;

    // The steepest a sine of this frequency and level gets from one sample to the next.
    private const double ToneStep = ToneLevel * 2 * Math.PI * ToneHz / SampleRate;

    private readonly TestSong song = new();
    private readonly ManualDevice device = new(SampleRate, 64);
    private LivePlayer? player;

    public void Dispose()
    {
        player?.Dispose();
        song.Dispose();
    }

    [Fact]
    public void WhatIsHeardIsWhatIsRendered()
    {
        // Live plan and render of one song with processors of every kind, in odd blocks: the same bits.
        song.AddStem("a", Noise.White(Second, 1, 0.2f), Noise.White(Second, 2, 0.2f), stem => stem with
        {
            Chain = TestSong.Chain(
                TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", 6)),
                TestSong.Slot("compressor", ("thresholdDb", -30)) with { MixPercent = 60, Scope = StereoScope.Mid }),
        });
        song.Song = song.Song with { Bus = TestSong.Chain(TestSong.Slot("limiter", ("inputGainDb", 12))) };
        (float[] left, float[] right) = song.Render(catalogue: BuiltInProcessors.Catalogue);
        PlanOptions live = new(64, 16_384) { IsLive = true };
        (float[] liveLeft, float[] liveRight) = song.Render(blockFrames: 37, catalogue: BuiltInProcessors.Catalogue, options: live);
        Assert.Equal(left, liveLeft);
        Assert.Equal(right, liveRight);
    }

    [Fact]
    public void PlayerPutsOutTheSongAtTheMonitorsLevel()
    {
        float[] noise = Noise.White(2 * Second, 3, 0.1f);
        song.AddStem("a", noise, noise);
        Start();
        device.Run(Second);
        player!.Play();
        device.Run(Second);

        // Aligned by the loudest lag, the output is the stem after its opening fade.
        int lag = Align(device.Left, noise);
        for (int i = 2000; i < Second - 2000; i++)
        {
            Assert.Equal(noise[i], device.Left[i + lag], 1e-5f);
        }
    }

    [Theory]
    [InlineData("mute")]
    [InlineData("solo")]
    [InlineData("gain")]
    [InlineData("pan")]
    [InlineData("bypass a processor")]
    [InlineData("bypass the chain")]
    [InlineData("mix")]
    [InlineData("parameter")]
    [InlineData("add a processor")]
    [InlineData("remove a processor")]
    [InlineData("reorder")]
    [InlineData("stop")]
    public void NoSwitchOfASteadyToneMakesAStep(string what)
    {
        AddTone("a", ToneLevel);
        AddTone("b", ToneLevel);
        song.Song = song.Song with
        {
            Stems = song.Song.Stems.SetItem(0, song.Song.Stems[0] with
            {
                Chain = TestSong.Chain(
                    TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", -6), ("band2.frequencyHz", 500)),
                    TestSong.Slot("gain", ("gainDb", 2))),
            }),
        };
        Start();
        player!.Play();
        device.Run(Second);
        device.Left.Clear();
        device.Run(Second / 4);
        player.Show(Changed(what), song.Folder);
        if (what == "stop")
        {
            player.Stop();
        }

        for (int i = 0; i < 40; i++)
        {
            device.Run(Second / 80);
            player.Update();
        }

        // A ramp of 10 ms over the whole level of the sum (one stem at up to +5 dB, one at 0 dB: 2.8) adds at most 2.8 / 480
        // a frame, times π/2 where it is a raised cosine.
        double allowed = 2.8 * (ToneStep + (ToneLevel / (0.01 * SampleRate) * Math.PI / 2));
        AssertNoStepAbove(allowed);
    }

    [Fact]
    public void JumpWhilePlayingNeverStallsAndLandsToTheSample()
    {
        float[] noise = Noise.White(8 * Second, 5, 0.1f);
        song.AddStem("a", noise, noise);
        Start();
        player!.Play();
        device.Run(Second);
        device.Left.Clear();
        player.JumpTo(5);
        RunUntilPosition(5.0, 5.8);
        int start = device.Left.Count;
        device.Run(Second / 2);

        // The middle of what is heard now is found again in the stem, exactly.
        float[] heard = [.. device.Left.Skip(start + 4000).Take(4000)];
        int place = Find(noise, heard, (int)(5.0 * Second), (int)(6.9 * Second));
        Assert.True(place > 0);

        // From before the jump until after it there is no silence: the noise has no run of 64 near-zero samples.
        int quiet = 0;
        foreach (float sample in device.Left)
        {
            quiet = MathF.Abs(sample) < 1e-4f ? quiet + 1 : 0;
            Assert.True(quiet < 64);
        }
    }

    [Fact]
    public void LoopGoesRoundWithoutAStepAndWithoutLosingASample()
    {
        // 0.5 s hold 220 periods of the tone: at the seam the fade runs between two equal places.
        AddTone("a", ToneLevel, seconds: 6);
        Start();
        player!.Play();
        device.Run(Second / 2);
        player.JumpTo(1, (1, 1.5));
        RunUntilPosition(1.0, 1.5);
        device.Left.Clear();
        for (int i = 0; i < 60; i++)
        {
            device.Run(Second / 20);
            double position = player.Look().PositionSeconds;
            Assert.InRange(position, 0.99, 1.5);
            Thread.Sleep(1);
        }

        // Equal power over equal signals rises by up to 3 dB in the middle of the fade.
        AssertNoStepAbove(1.5 * ToneStep + (0.5 * ToneLevel / (0.01 * SampleRate) * Math.PI));
        Assert.Equal(0, player.Look().MissedFrames);
    }

    [Fact]
    public void NothingOnTheAudioThreadAllocates()
    {
        AddTone("a", ToneLevel);
        AddTone("b", ToneLevel);
        AddTone("c", ToneLevel, seconds: 6);
        Song other = song.Song with { Title = "Other", Stems = [song.Song.Stems[2]], Bus = TestSong.Chain(TestSong.Slot("limiter")) };
        song.Song = song.Song with { Stems = song.Song.Stems.RemoveAt(2), Bus = TestSong.Chain(TestSong.Slot("compressor"), TestSong.Slot("limiter")) };
        Start();
        Measure("start", () => player!.Play(), () => IsHeard(ToneLevel) && At(0.1, 4));
        foreach (string what in new[] { "mute", "gain", "bypass the chain", "add a processor" })
        {
            MonitorSettings monitor = MonitorSettings.AtStart with { BandListen = what == "gain", Channels = MonitorChannels.Mono };
            Measure(what, () => player!.Show(Changed(what), song.Folder), () => what != "add a processor" || player!.Running(new TapPlace(0, -1, "compressor")) is not null);
            Measure($"{what}, monitor", () => player!.SetMonitor(monitor), () => true);
            Measure($"{what}, seek and loop", () => player!.JumpTo(0.5, what == "mute" ? (0.5, 0.8) : null), () => At(0.5, 0.8));
        }

        player!.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        Measure("stop", () => player.Stop(), () => IsHeard(0));
        double stopped = player.Look().PositionSeconds;
        device.Run(Second / 4);
        Assert.Equal(stopped, player.Look().PositionSeconds);
        Measure("seek while it stands", () => player.JumpTo(2), () => At(1.99, 2.01) && IsHeard(0));
        Measure("start again", () => player.Play(), () => At(2.1, 4) && IsHeard(ToneLevel));
        Measure("seek while it plays", () => player.JumpTo(1), () => At(1, 1.5));
        Measure("loop elsewhere", () => player.SetLoop((2.5, 2.75)), () => At(2.7, 2.75));
        Measure("round the loop", () => { }, () => At(2.5, 2.6));
        Measure("out of the loop", () => player.SetLoop(null), () => At(2.8, 4));
        Measure("another song", () => player.Show(other, song.Folder), () => player.Look().LengthSeconds == 6 && At(0.2, 2) && IsHeard(ToneLevel));
        Measure("the first again", () => player.Show(song.Song, song.Folder), () => player.Look().LengthSeconds == 4 && At(0.2, 2) && IsHeard(ToneLevel));
        player.Follow(other, song.Folder);
        Measure("on into the next", () => player.JumpTo(3.75), () => player.FollowedSongs == 1 && player.Look().LengthSeconds == 6 && At(0.2, 2));
    }

    [Fact]
    public void OfSeveralQuickChangesTheLastOneArrives()
    {
        AddTone("a", ToneLevel);
        Start();
        player!.Play();
        for (int i = 0; i < 200; i++)
        {
            player.Show(WithGain(i % 2 == 0 ? -20 : 0), song.Folder);
        }

        player.Show(WithGain(-6.0206), song.Folder);
        device.Left.Clear();
        device.Run(Second / 2);
        float peak = device.Left.Skip(Second / 4).Max();
        Assert.Equal(ToneLevel / 2, peak, ToneLevel * 0.01);
    }

    [Fact]
    public void BrokenStemFallsSilentAndIsNamedWhileTheOthersGoOn()
    {
        AddTone("a", ToneLevel, seconds: 20);
        AddTone("b", ToneLevel, seconds: 20);
        Start();
        player!.Play();
        device.Run(Second / 4);
        using (FileStream file = new(Path.Combine(song.Folder, "b.wav"), FileMode.Open, FileAccess.Write, FileShare.ReadWrite))
        {
            file.SetLength(2_000_000);
        }

        List<string> troubles = [];
        for (int i = 0; i < 160 && troubles.Count == 0; i++)
        {
            device.Run(Second / 8);
            troubles.AddRange(player.Update());
            Thread.Sleep(2);
        }

        Assert.Contains(troubles, trouble => trouble.Contains("b.wav", StringComparison.Ordinal));
        device.Left.Clear();
        device.Run(Second / 4);
        Assert.True(device.Left.Max() > ToneLevel * 0.9);
    }

    private void Start()
    {
        player = new LivePlayer(device, BuiltInProcessors.Catalogue);
        player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        player.Show(song.Song, song.Folder);
        device.Run(Second / 2);
        player.Update();
    }

    private void AddTone(string name, float level, int seconds = 4)
    {
        float[] tone = new float[seconds * Second];
        for (int i = 0; i < tone.Length; i++)
        {
            tone[i] = (float)(level * Math.Sin(2 * Math.PI * ToneHz * i / SampleRate));
        }

        song.AddStem(name, tone, tone);
    }

    private Song WithGain(double gainDb) => song.Song with
    {
        Stems = song.Song.Stems.SetItem(0, song.Song.Stems[0] with { Placement = song.Song.Stems[0].Placement with { GainDb = gainDb } }),
    };

    private Song Changed(string what)
    {
        Stem stem = song.Song.Stems[0];
        Stem changed = what switch
        {
            "mute" => stem with { Placement = stem.Placement with { Muted = true } },
            "solo" => stem with { Placement = stem.Placement with { Soloed = true } },
            "gain" => stem with { Placement = stem.Placement with { GainDb = -12 } },
            "pan" => stem with { Placement = stem.Placement with { Pan = 1 } },
            "bypass the chain" => stem with { Chain = stem.Chain with { Bypassed = true } },
            "add a processor" => stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.Add(TestSong.Slot("compressor", ("thresholdDb", -40))) } },
            "remove a processor" => stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.RemoveAt(0) } },
            "reorder" => stem with { Chain = stem.Chain with { Slots = [.. stem.Chain.Slots.Reverse()] } },
            "bypass a processor" => WithSlot(stem, 0, slot => slot with { Bypassed = true }),
            "mix" => WithSlot(stem, 0, slot => slot with { MixPercent = 30 }),
            "parameter" => WithSlot(stem, 0, slot => slot with { Parameters = slot.Parameters.SetItem("band2.gainDb", 3) }),
            _ => stem,
        };
        return song.Song with { Stems = song.Song.Stems.SetItem(0, changed) };
    }

    private static Stem WithSlot(Stem stem, int index, Func<ChainSlot, ChainSlot> change) =>
        stem with { Chain = stem.Chain with { Slots = stem.Chain.Slots.SetItem(index, change(stem.Chain.Slots[index])) } };

    // What is done is heard as it comes about, and some time longer; by then the device's calls have allocated nothing.
    private void Measure(string what, Action act, Func<bool> isDone)
    {
        act();
        int longer = 20;
        for (int i = 0; i < 8000 && longer > 0; i++)
        {
            longer -= isDone() || longer < 20 ? 1 : 0;
            device.Run(Second / 200);
            player!.Update();
            Thread.Sleep(longer < 20 ? 0 : 1);
        }

        Assert.True(longer == 0, $"{what} has not come about");
        Assert.True(device.AllocatedBytes == 0, $"{what}: {device.AllocatedBytes} bytes");
    }

    private bool At(double from, double to) => player!.Look().PositionSeconds is var now && now >= from && now < to;

    // The latest buffers hold at least one crest of the tone: none at all, or one of about this level or more.
    private bool IsHeard(float level) => device.Left.TakeLast(2 * Second / 440).Max(MathF.Abs) is var peak && (level == 0 ? peak < 1e-6f : peak > 0.5f * level);

    private void RunUntilPosition(double from, double to)
    {
        for (int i = 0; i < 2000; i++)
        {
            device.Run(64);
            double position = player!.Look().PositionSeconds;
            if (position >= from && position < to)
            {
                return;
            }

            Thread.Sleep(1);
        }

        Assert.Fail($"the position never came between {from} and {to} s");
    }

    private void AssertNoStepAbove(double allowed)
    {
        for (int i = 1; i < device.Left.Count; i++)
        {
            Assert.True(Math.Abs(device.Left[i] - device.Left[i - 1]) <= allowed, $"a step of {device.Left[i] - device.Left[i - 1]} at frame {i}, more than {allowed}");
        }
    }

    private static int Align(List<float> heard, float[] stem)
    {
        float[] part = stem[5000..5400];
        int place = Find([.. heard], part, 5000, heard.Count - 400);
        Assert.True(place >= 0);
        return place - 5000;
    }

    // The first place where the part stands in the whole within rounding, or −1.
    private static int Find(float[] whole, float[] part, int from, int to)
    {
        for (int at = from; at < Math.Min(to, whole.Length - part.Length); at++)
        {
            int i = 0;
            while (i < part.Length && Math.Abs(whole[at + i] - part[i]) < 1e-4f)
            {
                i++;
            }

            if (i == part.Length)
            {
                return at;
            }
        }

        return -1;
    }
}
