namespace LiveStems.Tests.Albums;

/// <summary>A folder that is gone after the test.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public TemporaryFolder()
    {
        Path = Directory.CreateTempSubdirectory("livestems test ü ").FullName;
    }

    public string Path { get; }

    public string At(string relative) => System.IO.Path.Combine(Path, relative);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
