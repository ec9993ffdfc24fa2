using LiveStems.Engine.Devices;

namespace LiveStems.Tests.Engine.Devices;

/// <summary>Fills half of what it is asked for, then fails.</summary>
internal sealed class ThrowingRenderer : IAudioRenderer
{
    public void Render(Span<float> left, Span<float> right)
    {
        left[..(left.Length / 2)].Fill(1);
        right[..(right.Length / 2)].Fill(1);
        throw new InvalidOperationException("the harbour bell is out of tune");
    }
}
