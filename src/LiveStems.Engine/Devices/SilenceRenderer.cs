namespace LiveStems.Engine.Devices;

/// <summary>Renders silence.</summary>
internal sealed class SilenceRenderer : IAudioRenderer
{
    internal static SilenceRenderer Instance { get; } = new();

    public void Render(Span<float> left, Span<float> right)
    {
        left.Clear();
        right.Clear();
    }
}
