using LiveStems.Albums.Model;

namespace LiveStems.App.Demo;

/// <summary>One stem of a demo song.</summary>
internal sealed class DemoStem(int number, string name, StemRole role, bool isMono, Func<float[][]> render)
{
    public string Name { get; } = name;

    /// <summary>"03 Bass.wav".</summary>
    public string FileName { get; } = $"{number:00} {name}.wav";

    public StemRole Role { get; } = role;

    public bool IsMono { get; } = isMono;

    /// <summary>Synthesises the stem: one channel or left and right, full scale ±1, the same samples every time.</summary>
    public float[][] Render() => render();
}
