using LiveStems.Files;
using LiveStems.Files.Reading;

namespace LiveStems.Tests.Engine.Live;

/// <summary>A file on a disk that stops answering, or reports faults, when the test says so.</summary>
internal sealed class SlowReader(IAudioReader file) : IAudioReader
{
    private readonly ManualResetEventSlim answers = new(true);

    public AudioFileInfo Info => file.Info;

    public long Position => file.Position;

    public volatile bool IsBroken;

    public void Hold() => answers.Reset();

    public void LetGo() => answers.Set();

    public int Read(Span<float> left, Span<float> right)
    {
        answers.Wait();
        return IsBroken ? throw new AudioFileException("slow.wav: the disk does not answer") : file.Read(left, right);
    }

    public void Seek(long frame) => file.Seek(frame);

    public void Dispose()
    {
        answers.Set();
        file.Dispose();
    }
}
