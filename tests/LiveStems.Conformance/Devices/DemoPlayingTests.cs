using System.Diagnostics;
using LiveStems.Conformance.Demo;
using LiveStems.Conformance.Window;
using Xunit;

namespace LiveStems.Conformance.Devices;

/// <summary>The demo played by a program that has never played before.</summary>
public class DemoPlayingTests(DemoAlbumFixture demo) : IClassFixture<DemoAlbumFixture>
{
    // By then each of its processors has worked: the song has become loud, and limiters and compressors turn it down.
    private const string Seconds = "16";

    [Fact]
    public void NothingIsCompiledOnTheAudioThreadWhileMusicPlays()
    {
        string configuration = Directory.CreateTempSubdirectory("livestems-play-").FullName;
        ProcessStartInfo start = OpenWindow.Start(null, configuration, "play", demo.Folder, "--device", "silent", "--seconds", Seconds);
        start.RedirectStandardInput = true;
        using Process player = Process.Start(start)!;
        player.StandardInput.Close();
        string report = player.StandardError.ReadToEnd();
        player.WaitForExit();
        Directory.Delete(configuration, recursive: true);
        Assert.Equal(0, player.ExitCode);
        Assert.Contains("; 0 methods compiled on the audio thread", report, StringComparison.Ordinal);
    }
}
