using LiveStems.Engine.Hosting.Isolation;
using LiveStems.Engine.RealTime;
using LiveStems.Processing.Catalogue;
using LiveStems.Processing.Contract;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Hosting;

/// <summary>The exchange over shared memory, with both sides in this process: what is late, what comes back, what is lost.</summary>
public sealed class RemoteVoiceTests : IDisposable
{
    private const int SampleRate = 48_000;
    private const int Block = 128;

    private readonly string path = Path.Combine(Path.GetTempPath(), $"livestems-test-{Guid.NewGuid():N}");
    private readonly ProcessingFormat format = new(SampleRate, Block);
    private readonly SharedLine line;
    private readonly RemoteVoice voice;
    private readonly Processor values = BuiltInProcessors.Catalogue.Create("gain")!;
    private readonly float[] noise = Noise.White(SampleRate, 11, 0.25f);

    public RemoteVoiceTests()
    {
        line = LineFile.Create(path, 16 * Block, 2);
        voice = new RemoteVoice(line, values.Description.Parameters.Count, format, Block, 0);
        voice.Attach(1);
    }

    public void Dispose()
    {
        line.Dispose();
        File.Delete(path);
    }

    [Fact]
    public void WhatIsBackInTimeIsHeardOneBlockLater()
    {
        float[] heard = Run(0, 20, Answer);
        Assert.Equal(new float[Block], heard[..Block]);
        Assert.Equal(noise[..(19 * Block)].Select(sample => -sample), heard[Block..]);
        Assert.Equal((0L, false), (voice.LostFrames, voice.IsAway));
    }

    [Fact]
    public void WhatIsLateIsTheDrySoundAlignedAndFadesBackIn()
    {
        Run(0, 20, Answer);
        float[] late = Run(20, 6, () => { });

        // The first of them had its answer already.
        Assert.Equal(noise[(19 * Block)..(20 * Block)].Select(sample => -sample), late[..Block]);
        Assert.True(voice.IsAway);
        Assert.Equal(5 * Block, voice.LostFrames);

        // 10 ms of fade; then the sound as it went in.
        Assert.Equal(noise[(23 * Block + 480 - 3 * Block)..(25 * Block)], late[(4 * Block + 480 - 3 * Block)..(6 * Block)]);
        float[] back = Run(26, 60, Answer);
        Assert.False(voice.IsAway);
        Assert.Equal(noise[(75 * Block)..(85 * Block)].Select(sample => -sample), back[(50 * Block)..(60 * Block)]);
        Assert.Equal(1, voice.Lapses);
    }

    [Fact]
    public void NewProcessBeginsAnewAndIsHeardOnlyOnceItHasSettled()
    {
        Run(0, 20, Answer);
        voice.Attach(0);
        Run(20, 10, () => { });
        voice.Attach(2);
        position = 0;
        float[] back = Run(30, 5, Answer);
        Assert.True(voice.IsAway);
        Assert.Equal(noise[(29 * Block)..(34 * Block)], back);
        Run(35, 60, Answer);
        Assert.False(voice.IsAway);
    }

    [Fact]
    public void WhatStandsStillIsNeverWaitedForAndNothingIsAllocated()
    {
        Run(0, 4, Answer);
        float[] left = new float[Block];
        float[] right = new float[Block];
        voice.TakeBack(new StereoBlock(left, right), voice.HandOver(new StereoBlock(left, right), values));
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int block = 0; block < 100; block++)
        {
            voice.TakeBack(new StereoBlock(left, right), voice.HandOver(new StereoBlock(left, right), values));
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void LineServerDoesWhatTheProcessorDoes()
    {
        Processor processor = BuiltInProcessors.Catalogue.Create("compressor")!;
        Processor twin = BuiltInProcessors.Catalogue.Create("compressor")!;
        processor.Prepare(format);
        twin.Prepare(format);
        string other = path + "2";
        using SharedLine own = LineFile.Create(other, 16 * Block, 2);
        LineServer server = new(LineFile.Open(other), processor, Block, 1);
        own.Filling = 1;
        for (int block = 0; block < 50; block++)
        {
            float[] expected = noise[(block * Block)..((block + 1) * Block)];
            float[] expectedRight = [.. expected];
            own.Put(0, block * Block, expected);
            own.Put(1, block * Block, expected);
            if (block == 10)
            {
                Assert.True(own.TryCommand(block * Block, 0, -40));
                twin.SetParameter(0, -40);
            }

            Volatile.Write(ref own.Written, (block + 1) * Block);
            twin.Process(new StereoBlock(expected, expectedRight));
            Assert.True(SpinWait.SpinUntil(() => Volatile.Read(ref own.Processed) == (block + 1) * Block, TimeSpan.FromSeconds(10)));
            float[] got = new float[Block];
            own.GetBack(0, block * Block, got);
            Assert.Equal(expected, got);
            Assert.Equal(twin.GainReductionDb, own.ReductionDb);
        }

        server.End();
        File.Delete(other);
    }

    private long position;

    // The other side, turning the polarity, after each block.
    private void Answer()
    {
        float[] sound = new float[Block];
        long written = line.Written;
        for (; position < written; position += Block)
        {
            for (int side = 0; side < 2; side++)
            {
                line.Get(side, position, sound);
                line.PutBack(side, position, [.. sound.Select(sample => -sample)]);
            }
        }

        while (line.TryPeek(out _, out _, out _))
        {
            line.TakeCommand();
        }

        line.Processed = position;
    }

    private float[] Run(int firstBlock, int blocks, Action afterEach)
    {
        List<float> heard = [];
        for (int block = firstBlock; block < firstBlock + blocks; block++)
        {
            float[] left = noise[(block * Block)..((block + 1) * Block)];
            float[] right = [.. left];
            StereoBlock segment = new(left, right);
            bool isHandedOver = voice.HandOver(segment, values);
            voice.TakeBack(segment, isHandedOver);
            heard.AddRange(left);
            Assert.Equal(left, right);
            afterEach();
        }

        return [.. heard];
    }
}
