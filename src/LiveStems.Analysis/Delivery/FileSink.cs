using LiveStems.Engine.Offline;
using LiveStems.Files.Writing;

namespace LiveStems.Analysis.Delivery;

/// <summary>Puts rendered sound into a file as it is.</summary>
internal sealed class FileSink(WavWriter writer) : IRenderSink
{
    public void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right) => writer.Write(left, right);
}
