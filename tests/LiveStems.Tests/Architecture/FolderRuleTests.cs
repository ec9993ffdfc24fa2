using Xunit;

namespace LiveStems.Tests.Architecture;

public class FolderRuleTests
{
    private static readonly string[] MayCallNatively =
    [
        Path.Combine("LiveStems.Engine", "Devices"), Path.Combine("LiveStems.Files", "Native"), Path.Combine("LiveStems.View", "Window"),
    ];

    // What waits, locks, touches the disk or allocates by surprise has no place where the audio thread goes.
    private static readonly string[] ForbiddenOnTheAudioThread =
    [
        "lock (", "Monitor.Enter", "Thread.Sleep", "SpinWait", "SemaphoreSlim", "ManualResetEvent", "AutoResetEvent", "Task.", "await ",
        "File.", "FileStream", "Console.", "DateTime.", "string.Format", "throw new",
    ];

    [Fact]
    public void OnlyTheFoldersForItCallNativeLibraries()
    {
        IEnumerable<string> callers = SourceTree.Files("src")
            .Where(path => File.ReadAllText(path) is { } text && (text.Contains("[LibraryImport", StringComparison.Ordinal) || text.Contains("[DllImport", StringComparison.Ordinal)));
        Assert.All(callers, path => Assert.Contains(MayCallNatively, folder => path.Contains(folder, StringComparison.Ordinal)));
    }

    [Fact]
    public void AudioThreadFolderNeitherLocksWaitsNorTouchesTheDisk()
    {
        string[] files = [.. SourceTree.Files(Path.Combine("src", "LiveStems.Engine", "RealTime"))];
        Assert.NotEmpty(files);
        Assert.All(files, path =>
        {
            string text = File.ReadAllText(path);
            Assert.All(ForbiddenOnTheAudioThread, word => Assert.False(text.Contains(word, StringComparison.Ordinal), $"{path} uses '{word}'"));
        });
    }

    [Fact]
    public void SignalMathsTouchNoFilesThreadsOrClocks()
    {
        string[] forbidden = ["System.IO", "File.", "Thread.", "Task.", "Console.", "DateTime", "Stopwatch", "Environment.Tick"];
        Assert.All(SourceTree.Files(Path.Combine("src", "LiveStems.Dsp")), path =>
        {
            string text = File.ReadAllText(path);
            Assert.All(forbidden, word => Assert.False(text.Contains(word, StringComparison.Ordinal), $"{path} uses '{word}'"));
        });
    }
}
