using LiveStems.Engine.Devices;
using LiveStems.Engine.Live;
using LiveStems.Files.Reading;
using LiveStems.Files.Writing;
using LiveStems.Tests.Files;
using LiveStems.Tests.Signals;
using Xunit;

namespace LiveStems.Tests.Engine.Live;

public sealed class SoundRecordingTests : IDisposable
{
    private const int SampleRate = 8_000;
    private const int Block = 160;

    private static readonly WavFormat Format = new(SampleRate, 32, IsFloat: true);
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    private readonly TemporaryFolder folder = new();
    private readonly float[] left = Noise.White(100 * SampleRate, 3, 0.5f);
    private readonly float[] right = Noise.White(100 * SampleRate, 4, 0.5f);
    private readonly float[] heardLeft = new float[Block];
    private readonly float[] heardRight = new float[Block];
    private readonly Source source;
    private int position;

    public SoundRecordingTests() => source = new Source(this);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void WhatIsPassedOnIsWhatIsWritten()
    {
        using SoundRecording tap = new(folder.File("Heard.wav"), SampleRate);
        Render(tap, 3 * SampleRate);
        tap.Complete();
        Assert.Null(tap.Failure);
        Assert.Equal(0, tap.LostFrames);
        Assert.Equal(3 * SampleRate, tap.Frames);
        (float[] writtenLeft, float[] writtenRight) = Read();
        Assert.Equal(left[..(3 * SampleRate)], writtenLeft);
        Assert.Equal(right[..(3 * SampleRate)], writtenRight);
    }

    [Fact]
    public void WhatComesAfterTheEndIsLetGo()
    {
        using SoundRecording recording = new(folder.File("Heard.wav"), SampleRate);
        Render(recording, SampleRate);
        recording.Complete();
        Render(recording, 10 * SampleRate);
        Assert.Equal(1, recording.Seconds);
        Assert.Equal(0, recording.LostFrames);
        Assert.Equal(SampleRate, recording.Frames);
    }

    [Fact]
    public void OnlyWhatIsHeardWhileThereIsARecordingIsWrittenAndAllIsPassedOn()
    {
        RecordingTap tap = new(source);
        using SoundRecording recording = new(folder.File("Heard.wav"), SampleRate);
        for (int block = 0; block < 6; block++)
        {
            if (block == 2)
            {
                tap.Begin(recording);
            }
            else if (block == 5)
            {
                tap.End();
            }

            tap.Render(heardLeft, heardRight);
            Assert.Equal(left[(block * Block)..((block + 1) * Block)], heardLeft);
        }

        Assert.Equal(3.0 * Block / SampleRate, recording.Seconds, 1e-9);
        recording.Complete();
        Assert.Equal(left[(2 * Block)..(5 * Block)], Read().Left);
        Assert.Equal($"recorded 0.1 s to {folder.File("Heard.wav")}", recording.Summary);
    }

    [Fact]
    public void WhereTheDiskWasTooSlowStandsSilenceAndTheRestIsInTime()
    {
        using ManualResetEventSlim isFast = new(true);
        using SoundRecording tap = Tap(target => new SlowDisk(target, isFast));
        Render(tap, SampleRate);
        for (int stall = 1; stall <= 2; stall++)
        {
            long before = tap.LostFrames;
            isFast.Reset();
            Render(tap, 9 * SampleRate);
            isFast.Set();
            Assert.True(tap.LostFrames > before);
            RenderUntilNothingIsLost(tap);
            Render(tap, SampleRate);
        }

        tap.Complete();
        Assert.Null(tap.Failure);
        (float[] writtenLeft, float[] writtenRight) = Read();
        Assert.Equal(position, writtenLeft.Length);
        Assert.Equal(position, tap.Frames);
        long silent = 0;
        for (int i = 0; i < position; i++)
        {
            bool isLost = writtenLeft[i] == 0 && left[i] != 0;
            silent += isLost ? 1 : 0;
            Assert.Equal(isLost ? (0, 0) : (left[i], right[i]), (writtenLeft[i], writtenRight[i]));
        }

        Assert.Equal(tap.LostFrames, silent);
    }

    [Fact]
    public void FullDiskIsToldAtOnceAndWhatWasWrittenBeforeIsAValidFile()
    {
        const int Room = 200_000;
        using SoundRecording tap = Tap(target => new SmallDisk(target, Room));
        Assert.True(SpinWait.SpinUntil(
            () =>
            {
                Render(tap, Block);
                Thread.Sleep(1);
                return tap.Failure is not null;
            },
            Patience));
        Assert.Contains("the disk is full", tap.Failure, StringComparison.Ordinal);
        Assert.DoesNotContain("nothing was changed", tap.Failure, StringComparison.Ordinal);
        Assert.Contains("s of the recording are kept", tap.Failure, StringComparison.Ordinal);

        // The file stands before anybody completes it, and the music goes on.
        (float[] writtenLeft, float[] writtenRight) = Read();
        Assert.InRange(writtenLeft.Length, (Room - 70_000) / 8, Room / 8);
        Assert.Equal(left[..writtenLeft.Length], writtenLeft);
        Assert.Equal(right[..writtenRight.Length], writtenRight);
        Assert.Equal(writtenLeft.Length, tap.Frames);
        Render(tap, SampleRate);
        tap.Complete();
        Assert.Equal(["Heard.wav"], folder.Names());
    }

    [Fact]
    public void DiskThatTakesNothingLeavesNothing()
    {
        using (SoundRecording tap = Tap(target => new SmallDisk(target, 0)))
        {
            Render(tap, SampleRate);
            tap.Complete();
            Assert.Contains("nothing of the recording is kept", tap.Failure, StringComparison.Ordinal);
        }

        Assert.Empty(folder.Names());
    }

    [Fact]
    public void DiskThatIsFullOnlyAtTheEndKeepsWhatItHas()
    {
        // Room for the first buffer of 64 KiB and no more: the rest is written when the file is completed.
        using SoundRecording tap = Tap(target => new SmallDisk(target, 70_000));
        Render(tap, SampleRate + 1200);
        tap.Complete();
        Assert.Contains("are kept", tap.Failure, StringComparison.Ordinal);
        float[] written = Read().Left;
        Assert.Equal(left[..written.Length], written);
        Assert.InRange(written.Length, 8000, 8190);
    }

    [Fact]
    public void RecordingThatIsNotCompletedLeavesWhatStoodThere()
    {
        File.WriteAllText(folder.File("Heard.wav"), "of yesterday");
        using (SoundRecording tap = new(folder.File("Heard.wav"), SampleRate))
        {
            Render(tap, SampleRate);
        }

        Assert.Equal("of yesterday", File.ReadAllText(folder.File("Heard.wav")));
        Assert.Equal(["Heard.wav"], folder.Names());
    }

    [Fact]
    public void AudioThreadAllocatesNothing()
    {
        using ManualResetEventSlim isFast = new(false);
        using SoundRecording tap = Tap(target => new SlowDisk(target, isFast));
        Render(tap, SampleRate);
        long before = GC.GetAllocatedBytesForCurrentThread();
        Render(tap, 9 * SampleRate);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        isFast.Set();
        Assert.Equal(0, allocated);
        Assert.True(tap.LostFrames > 0);
    }

    private SoundRecording Tap(Func<string, TemporaryFile> create) =>
        new(new WavWriter(folder.File("Heard.wav"), Format, uint.MaxValue, create), folder.File("Heard.wav"));

    private void Render(SoundRecording tap, int frames)
    {
        for (int done = 0; done < frames; done += Block)
        {
            int count = Math.Min(Block, frames - done);
            source.Render(heardLeft.AsSpan(0, count), heardRight.AsSpan(0, count));
            tap.Take(heardLeft.AsSpan(0, count), heardRight.AsSpan(0, count));
        }
    }

    // Until enough of the ring has been written.
    private void RenderUntilNothingIsLost(SoundRecording tap)
    {
        long before;
        do
        {
            Thread.Sleep(10);
            before = tap.LostFrames;
            Render(tap, Block);
        }
        while (tap.LostFrames != before);
    }

    private (float[] Left, float[] Right) Read()
    {
        using IAudioReader reader = AudioFile.Open(folder.File("Heard.wav"));
        float[] readLeft = new float[reader.Info.Frames];
        float[] readRight = new float[reader.Info.Frames];
        Assert.Equal(readLeft.Length, reader.Read(readLeft, readRight));
        return (readLeft, readRight);
    }

    private sealed class Source(SoundRecordingTests test) : IAudioRenderer
    {
        public void Render(Span<float> left, Span<float> right)
        {
            test.left.AsSpan(test.position, left.Length).CopyTo(left);
            test.right.AsSpan(test.position, right.Length).CopyTo(right);
            test.position += left.Length;
        }
    }

    private sealed class SlowDisk(string target, ManualResetEventSlim isFast) : TemporaryFile(target)
    {
        internal override void Write(ReadOnlySpan<byte> bytes, long offset)
        {
            isFast.Wait();
            base.Write(bytes, offset);
        }
    }

    private sealed class SmallDisk(string target, long room) : TemporaryFile(target)
    {
        internal override void Write(ReadOnlySpan<byte> bytes, long offset)
        {
            long taken = Math.Clamp(room - offset, 0, bytes.Length);
            base.Write(bytes[..(int)taken], offset);
            if (taken < bytes.Length)
            {
                // ENOSPC, as .NET hands it on; part of the bytes may stand on the disk.
                throw new IOException("No space left on device", 28);
            }
        }
    }
}
