namespace LiveStems.Tests.Signals;

/// <summary>Hard and easy sounds that every processor must survive.</summary>
internal static class NetSignals
{
    /// <summary>Names of the signals.</summary>
    public static IReadOnlyList<string> Names { get; } =
        ["silence", "square", "impulses", "noise", "subnormals", "bursts", "dc"];

    /// <summary>A stereo signal by its name; the channels differ.</summary>
    public static (float[] Left, float[] Right) Make(string name, int frames) => name switch
    {
        "silence" => (new float[frames], new float[frames]),
        "square" => (From(frames, n => n / 37 % 2 == 0 ? 1 : -1), From(frames, n => n / 53 % 2 == 0 ? 1 : -1)),
        "impulses" => (From(frames, n => n % 701 == 0 ? 1 : 0), From(frames, n => n % 503 == 7 ? -1 : 0)),
        "noise" => (Noise.White(frames, 21), Noise.White(frames, 22)),
        "subnormals" => (From(frames, n => n % 3 * 1e-40f), From(frames, n => -(n % 5) * 3e-41f)),
        "bursts" => (Bursts(frames, 23), Bursts(frames, 24)),
        "dc" => (From(frames, _ => 0.5f), From(frames, _ => -1)),
        _ => throw new ArgumentException(name),
    };

    private static float[] Bursts(int frames, int seed)
    {
        float[] noise = Noise.White(frames, seed, 1);
        return From(frames, n => n / 1500 % 2 == 0 ? noise[n] : 0.001f * noise[n]);
    }

    private static float[] From(int frames, Func<int, float> sample) => [.. Enumerable.Range(0, frames).Select(sample)];
}
