using LiveStems.Files.Reading;

namespace LiveStems.Analysis.Intake;

/// <summary>A file whose sound is scanned as it is read, so that one pass serves everything. It is read forwards only.</summary>
internal sealed class ScannedReader(IAudioReader source, StemScan scan) : IAudioReader
{
    public AudioFileInfo Info => source.Info;

    public long Position => source.Position;

    public int Read(Span<float> left, Span<float> right)
    {
        int frames = source.Read(left, right);
        scan.Add(left[..frames], right[..frames]);
        return frames;
    }

    public void Seek(long frame)
    {
        if (frame != source.Position)
        {
            throw new NotSupportedException("a file is scanned from its start to its end");
        }
    }

    public void Dispose() => source.Dispose();
}
