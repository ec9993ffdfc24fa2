namespace LiveStems.Tests.Files;

/// <summary>A folder that a test has to itself and that goes with it.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    private readonly string path = Directory.CreateTempSubdirectory("stems").FullName;

    /// <summary>Path of a file in the folder.</summary>
    public string File(string name) => Path.Combine(path, name);

    /// <summary>Writes a file in the folder and returns its path.</summary>
    public string File(string name, byte[] bytes)
    {
        System.IO.File.WriteAllBytes(File(name), bytes);
        return File(name);
    }

    /// <summary>Names of what is in the folder, hidden files too.</summary>
    public string[] Names() => [.. Directory.EnumerateFileSystemEntries(path).Select(entry => Path.GetFileName(entry)).Order()];

    public void Dispose() => Directory.Delete(path, recursive: true);
}
