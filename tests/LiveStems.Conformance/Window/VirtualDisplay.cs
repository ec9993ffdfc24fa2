using System.Diagnostics;
using Xunit;

namespace LiveStems.Conformance.Window;

/// <summary>An X display without a screen (Xvfb) at a number that was free, for as long as it is needed.</summary>
internal sealed class VirtualDisplay : IDisposable
{
    private readonly Process server;

    public VirtualDisplay()
    {
        Prerequisite.Program("Xvfb");
        ProcessStartInfo start = new("Xvfb", ["-displayfd", "1", "-screen", "0", "1400x900x24", "-nolisten", "tcp"]) { RedirectStandardOutput = true, RedirectStandardError = true };
        server = Process.Start(start)!;
        string? number = server.StandardOutput.ReadLine();
        Assert.False(string.IsNullOrEmpty(number), "Xvfb did not start");
        Name = ":" + number;
    }

    /// <summary>What stands in DISPLAY.</summary>
    public string Name { get; }

    /// <summary>Sends input as a person would, through the server: arguments of xdotool.</summary>
    public void Send(params string[] arguments)
    {
        Prerequisite.Program("xdotool");
        ProcessStartInfo start = new("xdotool", arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["DISPLAY"] = Name;
        using Process process = Process.Start(start)!;
        string errors = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"xdotool {string.Join(' ', arguments)}: {errors}");
    }

    public void Dispose()
    {
        server.Kill();
        server.WaitForExit();
        server.Dispose();
    }
}
