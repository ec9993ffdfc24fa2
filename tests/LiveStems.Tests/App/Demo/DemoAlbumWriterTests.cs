using LiveStems.App.Demo;
using LiveStems.Files;
using Xunit;

namespace LiveStems.Tests.App.Demo;

public sealed class DemoAlbumWriterTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("livestems-demo-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void CancelledWritingStopsAtOnce()
    {
        using var cancelled = new CancellationTokenSource();
        cancelled.Cancel();

        Assert.ThrowsAny<OperationCanceledException>(() => DemoAlbumWriter.WriteStems(folder, null, cancelled.Token));
        Assert.Empty(Directory.EnumerateFiles(folder, "*.wav", SearchOption.AllDirectories));
    }

    [Fact]
    public void FileThatCannotBeWrittenIsNamed()
    {
        // A folder stands where the first stems should go.
        foreach (DemoStem stem in DemoAlbum.Songs[0].Stems)
        {
            Directory.CreateDirectory(Path.Combine(folder, DemoAlbumWriter.FolderName(0), stem.FileName));
        }

        var fault = Assert.Throws<AudioFileException>(() => DemoAlbumWriter.WriteStems(folder, null, TestContext.Current.CancellationToken));
        Assert.Contains(".wav", fault.Message, StringComparison.Ordinal);
    }
}
