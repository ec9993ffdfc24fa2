namespace LiveStems.Engine.Offline;

/// <summary>Where rendered sound goes: a file, a meter, or several of them.</summary>
public interface IRenderSink
{
    /// <summary>Takes the next frames; called in order, one call at a time, not always by the same thread.</summary>
    void Write(ReadOnlySpan<float> left, ReadOnlySpan<float> right);
}
