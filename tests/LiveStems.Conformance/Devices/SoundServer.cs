using System.Diagnostics;
using System.Runtime.InteropServices;
using System.Text;
using Xunit;

namespace LiveStems.Conformance.Devices;

/// <summary>
/// A PulseAudio server of our own in a folder of its own, with one sink that plays to nobody, 32-bit float at 48 kHz; and
/// ALSA in this process with that server as its only device, called default.
/// </summary>
public sealed class SoundServer : IDisposable
{
    public const int SampleRate = 48_000;

    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly string folder = Directory.CreateTempSubdirectory("livestems-sound-").FullName;
    private readonly Dictionary<string, string> environment;
    private Process? server;

    public SoundServer()
    {
        environment = new Dictionary<string, string>
        {
            ["HOME"] = folder,
            ["XDG_RUNTIME_DIR"] = folder,
            ["PULSE_RUNTIME_PATH"] = Path.Combine(folder, "run"),
            ["PULSE_STATE_PATH"] = Path.Combine(folder, "state"),
            ["PULSE_COOKIE"] = Path.Combine(folder, "cookie"),
            ["PULSE_SERVER"] = "unix:" + Path.Combine(folder, "native"),
            ["ALSA_CONFIG_PATH"] = Path.Combine(folder, "asound.conf"),
        };
        File.WriteAllText(environment["ALSA_CONFIG_PATH"], "pcm.!default { type pulse }\nctl.!default { type pulse }\n");
        if (!OperatingSystem.IsLinux())
        {
            return;
        }

        // The libraries of this process read the environment of C, which .NET's own setter does not reach.
        foreach ((string name, string value) in environment.Where(pair => pair.Key is not "HOME"))
        {
            Assert.Equal(0, SetEnvironment(name, value, 1));
        }
    }

    /// <summary>Skips the test on a machine that lacks what it needs, and starts the server unless it runs.</summary>
    public void Begin()
    {
        Prerequisite.Require(OperatingSystem.IsLinux(), "the sound server of this test runs on Linux only");
        Prerequisite.Program("pulseaudio");
        Prerequisite.Program("pactl");
        Prerequisite.Program("parec");
        Prerequisite.Require(HasPlugin(), "the package libasound2-plugins is not installed");
        Prerequisite.Require(NativeLibrary.TryLoad("libportaudio.so.2", out _), "the package libportaudio2 is not installed");
        if (server is not { HasExited: false })
        {
            Start();
        }
    }

    public void Start()
    {
        File.Delete(Path.Combine(folder, "native"));
        server = Run(
            "pulseaudio",
            "-n", "--daemonize=no", "--use-pid-file=no", "--exit-idle-time=-1", "--disable-shm=yes",
            $"--load=module-null-sink sink_name=quiet rate={SampleRate} format=float32le channels=2",
            $"--load=module-native-protocol-unix auth-anonymous=1 socket={Path.Combine(folder, "native")}");
        Stopwatch waited = Stopwatch.StartNew();
        while (!Answers())
        {
            Assert.True(waited.Elapsed < Patience, "the sound server does not start");
            Thread.Sleep(50);
        }
    }

    public void Kill()
    {
        server?.Kill();
        server?.WaitForExit();
        server?.Dispose();
        server = null;
    }

    /// <summary>Begins to record what the sink plays, as float frames of left and right; returns when the first have come.</summary>
    public SinkRecording Record()
    {
        string file = Path.Combine(folder, $"{Guid.NewGuid():N}.raw");
        Process recorder = Run(
            "parec", "--device=quiet.monitor", "--raw", "--format=float32le", $"--rate={SampleRate}", "--channels=2", "--latency-msec=50", file);
        SinkRecording recording = new(recorder, file);
        Assert.True(SpinWait.SpinUntil(() => recording.Length > 0, Patience), "the recorder does not start");
        return recording;
    }

    public void Dispose()
    {
        Kill();
        Directory.Delete(folder, recursive: true);
    }

    private static bool HasPlugin() =>
        new[] { "/usr/lib", "/usr/lib64" }
            .Where(Directory.Exists)
            .SelectMany(root => Directory.GetDirectories(root).Append(root))
            .Any(library => File.Exists(Path.Combine(library, "alsa-lib", "libasound_module_pcm_pulse.so")));

    private bool Answers()
    {
        using Process question = Run("pactl", "info");
        question.WaitForExit();
        return question.ExitCode == 0;
    }

    private Process Run(string program, params string[] arguments)
    {
        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach ((string name, string value) in environment)
        {
            start.Environment[name] = value;
        }

        Process process = Process.Start(start)!;
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        return process;
    }

    private static int SetEnvironment(string name, string value, int overwrite)
    {
        nint library = NativeLibrary.Load("libc.so.6");
        SetEnvironmentFunction set = Marshal.GetDelegateForFunctionPointer<SetEnvironmentFunction>(NativeLibrary.GetExport(library, "setenv"));
        return set(Encoding.UTF8.GetBytes(name + '\0'), Encoding.UTF8.GetBytes(value + '\0'), overwrite);
    }

    [UnmanagedFunctionPointer(CallingConvention.Cdecl)]
    private delegate int SetEnvironmentFunction(byte[] name, byte[] value, int overwrite);
}
