using System.Diagnostics;

namespace LiveStems.Engine.Hosting.Isolation;

/// <summary>How the program starts itself again for the process of an outside assembly.</summary>
internal static class RunnerProgram
{
    /// <summary>The program with its hidden verb, its input and output in our hands.</summary>
    public static ProcessStartInfo StartInfo()
    {
        string beside = Path.Combine(AppContext.BaseDirectory, OperatingSystem.IsWindows() ? "livestems.exe" : "livestems");
        ProcessStartInfo start = File.Exists(beside)
            ? new ProcessStartInfo(beside, [ProcessorRunner.Verb])
            : new ProcessStartInfo(Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet", [Path.Combine(AppContext.BaseDirectory, "livestems.dll"), ProcessorRunner.Verb]);
        start.RedirectStandardInput = true;
        start.RedirectStandardOutput = true;
        start.RedirectStandardError = true;
        start.UseShellExecute = false;
        start.CreateNoWindow = true;

        // Whatever it does, it leaves no pictures of its memory behind.
        start.Environment["DOTNET_DbgEnableMiniDump"] = "0";
        return start;
    }
}
