using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Live;
using LiveStems.Engine.Monitor;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine.Live;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Comparing;

public sealed class LiveComparisonTests : IDisposable
{
    private const int SampleRate = TestSong.SampleRate;
    private const int Second = SampleRate;

    private readonly TestSong song = new();
    private readonly ManualDevice device = new(SampleRate, 64);
    private LivePlayer? player;

    public void Dispose()
    {
        player?.Dispose();
        song.Dispose();
    }

    [Fact]
    public void SideIsHeardWithTheNextBlockAndWithin10Milliseconds()
    {
        AddSine(0.1f, TestSong.Slot("gain", ("gainDb", -6.0206)));
        StartWith(new ChainScope(new ChainPlace("a")), isFair: false);
        Run(1);
        Assert.Equal(0.05, Peak(Run(0.2)), 0.0005);
        player!.Comparing.Hear(CompareSide.In);

        // A fade of 10 ms, and the monitor's latency of at most 3.5 ms.
        Run(0.0135);
        Assert.Equal(0.1, Peak(Run(0.2)), 0.001);
        player.Comparing.Hear(CompareSide.Difference);
        Run(0.0135);
        Assert.Equal(0.05, Peak(Run(0.2)), 0.0005);
        player.Comparing.Hear(CompareSide.Silence);
        Run(0.0135);
        Assert.Equal(0, Peak(Run(0.2)), 1e-7);
    }

    [Fact]
    public void SwitchingSidesAddsNothingOutsideASteadySine()
    {
        AddSine(0.3f, TestSong.Slot("equaliser", ("band2.on", 1), ("band2.gainDb", -6), ("band2.frequencyHz", 250)), TestSong.Slot("limiter"));
        StartWith(new ChainScope(new ChainPlace("a")), isFair: true);
        Run(1);
        device.Left.Clear();
        foreach (CompareSide side in new[] { CompareSide.In, CompareSide.Difference, CompareSide.Out, CompareSide.Silence, CompareSide.In, CompareSide.Out })
        {
            player!.Comparing.Hear(side);
            Run(0.15);
            player.Comparing.IsFair = !player.Comparing.IsFair;
            Run(0.15);
        }

        // Again at once in the middle of the last fade.
        for (int i = 0; i < 40; i++)
        {
            player!.Comparing.Hear((CompareSide)(i % 4));
            Run(0.003);
        }

        double worst = ClickMeter.WorstDbfs([.. device.Left], SampleRate);
        Assert.True(worst < -90, $"{worst:F1} dBFS");
    }

    [Fact]
    public void ChoosingAndLeavingAComparisonMakesNoStep()
    {
        AddSine(0.1f, TestSong.Slot("gain", ("gainDb", -6.0206)), TestSong.Slot("limiter"));
        Start();
        Run(0.5);
        device.Left.Clear();
        foreach (CompareScope? scope in new CompareScope?[] { new ChainScope(new ChainPlace("a")), new ProcessorScope(new ChainPlace("a"), "gain"), null })
        {
            player!.Comparing.Choose(scope is null ? null : new Comparison(scope, false));
            Run(0.3);
        }

        // The steepest of the sine, and a fade of 10 ms over its level.
        double allowed = 0.1 * 2 * Math.PI * 250 / SampleRate + 0.1 / (0.01 * SampleRate);
        Assert.True(LargestStep() <= allowed, $"{LargestStep()}");
    }

    [Fact]
    public void FairGainMakesBothSidesOfSteadySoundEquallyLoud()
    {
        float[] noise = Noise.White(20 * Second, 1, 0.05f);
        song.AddStem("a", noise, noise, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("gain", ("gainDb", 5))) });
        StartWith(new ChainScope(new ChainPlace("a")), isFair: true);
        Run(4);
        FairGain fair = player!.Comparing.Fair;
        Assert.Equal(5, fair.DifferenceLu, 0.05);
        Assert.Equal(0, fair.InDb);
        Assert.Equal(-5, fair.OutDb, 0.05);
        double outRms = Rms(Run(1));
        player.Comparing.Hear(CompareSide.In);
        Run(0.1);
        double inRms = Rms(Run(1));

        // The same noise twice, half a dB of luck apart at most would be a thousand standard deviations; asked for is 0.1 LU.
        Assert.Equal(0, 20 * Math.Log10(outRms / inRms), 0.1);
        player.Comparing.IsFair = false;
        Run(0.3);
        player.Comparing.Hear(CompareSide.Out);
        Run(0.1);
        Assert.Equal(5, 20 * Math.Log10(Rms(Run(1)) / inRms), 0.1);
    }

    [Fact]
    public void FairGainStandsStillForFourSecondsAfterASwitch()
    {
        // After 14 s the music gets 12 dB louder, which the compressor takes back on one side only.
        float[] noise = Noise.White(40 * Second, 1, 0.02f);
        for (int i = 14 * Second; i < noise.Length; i++)
        {
            noise[i] *= 4;
        }

        song.AddStem("a", noise, noise, stem => stem with { Chain = TestSong.Chain(TestSong.Slot("compressor", ("thresholdDb", -40), ("ratio", 8))) });
        StartWith(new ChainScope(new ChainPlace("a")), isFair: true);
        Run(15.5);
        player!.Comparing.Hear(CompareSide.In);
        FairGain atSwitch = player.Comparing.Fair;
        for (int i = 0; i < 30; i++)
        {
            Run(0.125);
            Assert.Equal(atSwitch, player.Comparing.Fair);
        }

        Run(2);
        Assert.NotEqual(atSwitch, player.Comparing.Fair);
    }

    [Fact]
    public void SettingsMayChangeWhileTheyAreCompared()
    {
        AddSine(0.1f, TestSong.Slot("gain", ("gainDb", -6.0206)), TestSong.Slot("gain", ("gainDb", 0)) with { Id = "gain-2" });
        StartWith(new ProcessorScope(new ChainPlace("a"), "gain"), isFair: false, isInSong: true);
        Run(0.5);
        player!.Show(WithGain("gain-2", -6.0206), song.Folder);
        Run(0.3);
        Assert.Equal(0.025, Peak(Run(0.2)), 0.0003);
        player.Comparing.Hear(CompareSide.In);
        Run(0.1);
        Assert.Equal(0.05, Peak(Run(0.2)), 0.0005);

        // What is compared goes away: the comparison ends and says so.
        player.Show(song.Song with { Stems = [song.Song.Stems[0] with { Chain = LiveStems.Albums.Model.Chain.Empty }] }, song.Folder);
        List<string> told = [];
        for (int i = 0; i < 20; i++)
        {
            device.Run(Second / 40);
            told.AddRange(player.Update());
        }

        Assert.Contains(told, line => line.StartsWith("the comparison has ended", StringComparison.Ordinal));
        Assert.Null(player.Comparing.Chosen);
        Assert.Equal(0.1, Peak(Run(0.2)), 0.001);
    }

    [Fact]
    public void RoughMixIsHeardInPlaceOfTheSongAtTheSameBeat()
    {
        float[] stem = Noise.White(4 * Second, 1, 0.1f);
        float[] mix = Noise.White(4 * Second, 2, 0.1f);
        song.AddStem("rough", mix, mix);
        song.Song = song.Song with { Stems = [], RoughMix = "rough.wav" };
        song.AddStem("a", stem, stem, each => each with { Chain = TestSong.Chain(TestSong.Slot("limiter")) });
        StartWith(FileScope.RoughMixOf(song.Song), isFair: false);
        Run(0.5);
        device.Left.Clear();
        Run(0.2);
        player!.Comparing.Hear(CompareSide.In);
        Run(0.3);
        int songAt = Find(stem, device.Left, 2000);
        int mixAt = Find(mix, device.Left, (int)(0.4 * Second));
        Assert.Equal((int)(0.4 * Second) - 2000, mixAt - songAt);
    }

    [Fact]
    public void NothingThatIsComparedAllocatesOnTheAudioThread()
    {
        AddSine(0.1f, TestSong.Slot("compressor"), TestSong.Slot("limiter"));
        StartWith(new ProcessorScope(new ChainPlace("a"), "compressor"), isFair: true, isInSong: true);
        foreach (CompareSide side in Enum.GetValues<CompareSide>())
        {
            player!.Comparing.Hear(side);
            Run(0.3);
        }

        player!.Comparing.Choose(new Comparison(new ChainScope(new ChainPlace("a")), false));
        Run(0.5);
        player.Comparing.Choose(null);
        Run(0.5);
        Assert.Equal(0, device.AllocatedBytes);
    }

    private void AddSine(float level, params ChainSlot[] slots)
    {
        float[] sine = new float[30 * Second];
        for (int i = 0; i < sine.Length; i++)
        {
            sine[i] = (float)(level * Math.Sin(2 * Math.PI * 250 * i / SampleRate));
        }

        song.AddStem("a", sine, sine, stem => stem with { Chain = TestSong.Chain(slots) });
    }

    private Song WithGain(string id, double gainDb)
    {
        Stem stem = song.Song.Stems[0];
        return song.Song with
        {
            Stems = [stem with { Chain = stem.Chain with { Slots = [.. stem.Chain.Slots.Select(slot => slot.Id == id ? slot with { Parameters = slot.Parameters.SetItem("gainDb", gainDb) } : slot)] } }],
        };
    }

    private void Start()
    {
        player = new LivePlayer(device, BuiltInProcessors.Catalogue);
        player.SetMonitor(MonitorSettings.AtStart with { IsDimmed = false });
        player.Show(song.Song, song.Folder);
        player.Play();
        Run(0.3);
    }

    private void StartWith(CompareScope scope, bool isFair, bool isInSong = false)
    {
        Start();
        player!.Comparing.Choose(new Comparison(scope, isInSong));
        player.Comparing.IsFair = isFair;
        Run(0.3);
        Assert.True(player.Comparing.IsReady);
    }

    private float[] Run(double seconds)
    {
        int start = device.Left.Count;
        int frames = (int)(seconds * SampleRate) / 64 * 64 + 64;
        for (int done = 0; done < frames; done += 1024)
        {
            device.Run(Math.Min(1024, frames - done));
            player!.Update();
            if (done % 8192 == 0)
            {
                // The reader's thread is given time to keep up with a clock that runs faster than music.
                Thread.Sleep(1);
            }
        }

        return [.. device.Left.Skip(start)];
    }

    private double LargestStep() => device.Left.Zip(device.Left.Skip(1)).Max(pair => Math.Abs(pair.First - pair.Second));

    private static double Peak(float[] sound) => sound.Max(Math.Abs);

    private static double Rms(float[] sound) => Math.Sqrt(sound.Average(sample => (double)sample * sample));

    private static int Find(float[] whole, List<float> heard, int at)
    {
        for (int place = 0; place + 300 < whole.Length; place++)
        {
            int i = 0;
            while (i < 300 && Math.Abs(whole[place + i] - heard[at + i]) < 1e-4f)
            {
                i++;
            }

            if (i == 300)
            {
                return place;
            }
        }

        Assert.Fail("what is heard stands nowhere in the file");
        return -1;
    }
}
