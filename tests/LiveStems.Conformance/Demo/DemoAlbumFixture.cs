using LiveStems.App;
using Xunit;

namespace LiveStems.Conformance.Demo;

/// <summary>The demo album as the first command of the README makes it.</summary>
public sealed class DemoAlbumFixture : IDisposable
{
    public DemoAlbumFixture()
    {
        Folder = Path.Combine(Directory.CreateTempSubdirectory("livestems-demo-").FullName, "demo");
        StringWriter output = new();
        StringWriter errors = new();
        int exitCode = Program.Run(["demo", Folder, "--no-window"], output, errors, CancellationToken.None);
        Assert.True(exitCode == 0, errors.ToString());
        Output = output.ToString();
    }

    public string Folder { get; }

    /// <summary>What the command wrote.</summary>
    public string Output { get; }

    public IReadOnlyList<string> Masters => [.. Directory.EnumerateFiles(Path.Combine(Folder, "Masters")).Order(StringComparer.Ordinal)];

    public IReadOnlyList<string> Stems => [.. Directory.EnumerateFiles(Folder, "*.wav", SearchOption.AllDirectories)
        .Where(path => !path.Contains("Masters", StringComparison.Ordinal))
        .Order(StringComparer.Ordinal)];

    public void Dispose() => Directory.Delete(Path.GetDirectoryName(Folder)!, recursive: true);
}
