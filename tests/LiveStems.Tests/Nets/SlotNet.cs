using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Planning;
using LiveStems.Engine.RealTime;
using LiveStems.Engine.Streaming;
using LiveStems.Processing.Catalogue;
using LiveStems.Tests.Engine;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Nets;

/// <summary>Every processor in its slot: what it takes away or adds can be heard alone, and it can work on the mid or the side alone.</summary>
public sealed class SlotNet : IDisposable
{
    private const int Frames = 24_000;
    private const int Block = 480;

    private readonly TestSong song = new();
    private readonly float[] left = WithTone(Noise.White(Frames, 1, 0.3f), 1000);
    private readonly float[] right = WithTone(Noise.White(Frames, 2, 0.3f), 3000);

    public static TheoryData<string> Ids() => ProcessorUnderTest.Ids();

    public void Dispose() => song.Dispose();

    // "In" is the stem itself, to the bit and at the same moment as "out"; so the difference of both is what the processor does.
    [Theory]
    [MemberData(nameof(Ids))]
    public void DifferenceIsWhatTheProcessorDoes(string id)
    {
        Sound heard = Listen(id, StereoScope.Stereo);
        Assert.Equal(left, heard.InLeft);
        Assert.Equal(right, heard.InRight);
        double difference = Power(heard.OutLeft.Zip(heard.InLeft, (a, b) => a - b));
        Assert.True(difference > 1e-8 * Power(heard.InLeft), $"{id} does nothing");
    }

    // Encoding, processing one part and decoding rounds the other by a few steps of 2⁻²⁴ of full scale.
    [Theory]
    [MemberData(nameof(Ids))]
    public void MidAloneLeavesTheSideAndSideAloneLeavesTheMid(string id)
    {
        Sound mid = Listen(id, StereoScope.Mid);
        Sound side = Listen(id, StereoScope.Side);
        for (int n = 0; n < Frames; n++)
        {
            Assert.Equal((left[n] - right[n]) / 2, (mid.OutLeft[n] - mid.OutRight[n]) / 2, 4 * Math.Pow(2, -24) * (1 + Math.Abs(mid.OutLeft[n])));
            Assert.Equal((left[n] + right[n]) / 2, (side.OutLeft[n] + side.OutRight[n]) / 2, 4 * Math.Pow(2, -24) * (1 + Math.Abs(side.OutLeft[n])));
        }

        // Width has nothing to do on one part: its own middle is all there is.
        Assert.True(id == "width" || Power(mid.OutLeft.Zip(left, (a, b) => a - b)) > 1e-8 * Power(left), $"{id} does nothing to the mid");
        Assert.True(id == "width" || Power(side.OutLeft.Zip(left, (a, b) => a - b)) > 1e-8 * Power(left), $"{id} does nothing to the side");
    }

    private Sound Listen(string id, StereoScope scope)
    {
        (string, double)[] settings = id == "gain" ? [("gainDb", -3)] : ActingSettings.For(id);
        song.Song = song.Song with { Stems = [] };
        song.AddStem("Stem", left, right, stem => stem with { Chain = TestSong.Chain(TestSong.Slot(id, settings) with { Scope = scope }) });
        ComparedSongs songs = new Comparison(new ProcessorScope(new ChainPlace("Stem"), id), false).Of(song.Song);
        PlanOptions options = new(Block, 262_144) { IsLive = true };
        using SongSources sources = SongSources.Open(songs, song.Folder, options);
        SongPlan plan = SongCompiler.Compile(songs, sources, BuiltInProcessors.Catalogue, options);
        plan.Plan.Reset();
        sources.Head.OpenAtStart();
        foreach (StemPump pump in sources.Pumps)
        {
            pump.Start(RingStart.First);
            pump.FillTo(Frames + plan.LatencyFrames + Block);
        }

        PlayingSong playing = new(plan.Plan, sources.Head, [.. sources.Pumps.Select(pump => pump.Feed)], sources.Frames);
        List<float>[] heard = [[], [], [], []];
        while (heard[0].Count < Frames + plan.LatencyFrames)
        {
            playing.TakeStems(Block);
            playing.Run(Block);
            heard[0].AddRange(plan.Plan.InOutput!.Left.AsSpan(0, Block));
            heard[1].AddRange(plan.Plan.InOutput!.Right.AsSpan(0, Block));
            heard[2].AddRange(plan.Plan.Output.Left.AsSpan(0, Block));
            heard[3].AddRange(plan.Plan.Output.Right.AsSpan(0, Block));
        }

        float[][] aligned = [.. heard.Select(channel => channel.Skip(plan.LatencyFrames).Take(Frames).ToArray())];
        return new Sound(aligned[0], aligned[1], aligned[2], aligned[3]);
    }

    // A tone that stands out of the noise, for what looks for such.
    private static float[] WithTone(float[] noise, double frequencyHz) =>
        [.. noise.Select((sample, n) => (float)(sample + 0.2 * Math.Sin(2 * Math.PI * frequencyHz * n / TestSong.SampleRate)))];

    private static double Power(IEnumerable<float> sound) => sound.Average(sample => (double)sample * sample);

    private sealed record Sound(float[] InLeft, float[] InRight, float[] OutLeft, float[] OutRight);
}
